// A person's private calendar address: made, copied, ended; and how a calendar program takes it, in plain words.
import { useState } from 'preact/hooks';
import { Button, LinkButton, Notice } from '../../look';
import { call, callJson } from '../../sync/call';
import { t } from '../../words';
import { Confirm } from '../confirm';
import { sayError } from '../trouble';

export function MyCalendar() {
  const [address, setAddress] = useState<string | null>(null);
  const [said, setSaid] = useState<string | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const attempt = (work: Promise<void>): void => {
    work.then(() => setProblem(null), (error: unknown) => setProblem(sayError(error)));
  };
  const make = async (): Promise<void> => {
    const made = await callJson<{ url: string }>('/api/calendar', { method: 'POST', body: {} });
    setAddress(made.url);
    setSaid(null);
  };
  const end = async (): Promise<void> => {
    await call('/api/calendar', { method: 'DELETE' });
    setAddress(null);
    setSaid(t('calendar.ended'));
  };
  return (
    <section class="stack">
      <h2>{t('calendar.title')}</h2>
      <p>{t('calendar.words')}</p>
      {problem !== null && <Notice tone="warn" title={t('calendar.failed')} announce><p>{problem}</p></Notice>}
      {said !== null && <p role="status">{said}</p>}
      {address !== null && <Address address={address} />}
      {address === null
        ? <><div class="actions"><Button onPress={() => attempt(make())}>{t('calendar.make')}</Button></div><p class="soft">{t('calendar.again.words')}</p></>
        : <HowTo />}
      <Confirm ask={t('calendar.end')} title={t('calendar.end.sure')} sure={t('calendar.end')} onSure={() => attempt(end())}>
        <p>{t('calendar.end.words')}</p>
      </Confirm>
    </section>
  );
}

function Address({ address }: { readonly address: string }) {
  const [copied, setCopied] = useState(false);
  const copy = (): void => void navigator.clipboard.writeText(address).then(() => setCopied(true), () => setCopied(false));
  return (
    <div class="panel stack" role="status">
      <p><strong>{t('calendar.address')}</strong></p>
      <p class="shell-link">{address}</p>
      <p>{t('calendar.once')}</p>
      <div class="actions">
        <Button onPress={copy}>{t(copied ? 'calendar.copied' : 'calendar.copy')}</Button>
        <LinkButton kind="quiet" href={address.replace(/^https?:/, 'webcal:')}>{t('calendar.open')}</LinkButton>
      </div>
    </div>
  );
}

function HowTo() {
  return (
    <>
      <h3>{t('calendar.how')}</h3>
      <ol>
        <li>{t('calendar.how.1')}</li>
        <li>{t('calendar.how.2')}</li>
        <li>{t('calendar.how.3')}</li>
      </ol>
      <p class="soft">{t('calendar.how.4')}</p>
    </>
  );
}
