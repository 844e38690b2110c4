// Who is in, with which phone; asking someone in; shutting a lost phone out.
import { useEffect, useState } from 'preact/hooks';
import { Button, Notice } from '../../look';
import { listDevices, revokeDevice, type DeviceEntry } from '../../sync/session';
import { formatDuration } from '../../../shared/units';
import { t } from '../../words';
import { Confirm } from '../confirm';
import { now } from '../now';
import { sayError } from '../trouble';
import { AskIn } from './ask-in';

export function CrewPhones() {
  const [devices, setDevices] = useState<readonly DeviceEntry[] | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const attempt = (work: Promise<void>): void => {
    work.then(() => setProblem(null), (error: unknown) => setProblem(sayError(error)));
  };
  const read = async (): Promise<void> => setDevices(await listDevices());
  const shutOut = async (id: string): Promise<void> => {
    await revokeDevice(id);
    await read();
  };
  useEffect(() => attempt(read()), []);
  return (
    <section class="stack">
      <h2>{t('shell.crew.title')}</h2>
      <AskIn />
      <h3>{t('shell.crew.phones')}</h3>
      {problem !== null && <Notice tone="warn" title={t('shell.crew.failed')}><p>{problem}</p></Notice>}
      {devices === null && problem === null && <p>{t('shell.loading')}</p>}
      {devices && <PhoneList devices={devices} onShutOut={(id) => attempt(shutOut(id))} />}
      {problem !== null && <div class="actions"><Button onPress={() => attempt(read())}>{t('shell.tryAgain')}</Button></div>}
    </section>
  );
}

function PhoneList({ devices, onShutOut }: { readonly devices: readonly DeviceEntry[]; readonly onShutOut: (id: string) => void }) {
  const held = devices.filter(({ revoked_at }) => revoked_at === null);
  return (
    <ul class="bare shell-phones">
      {held.map((device) => (
        <li key={device.id} class="shell-phone">
          <p><strong>{device.person.name}</strong>, {t(`shell.role.${device.person.role}`)}</p>
          <p class="soft">{device.name}. {heard(device)}{device.unsent > 0 ? ` ${t('shell.crew.unsent', { count: device.unsent })}` : ''}</p>
          {device.this ? <p class="soft">{t('shell.crew.this')}</p> : (
            <Confirm ask={t('shell.crew.shutOut')} title={t('shell.crew.sure', { name: device.person.name })} sure={t('shell.crew.shutOut')} onSure={() => onShutOut(device.id)}>
              <p>{t('shell.crew.sureWords')}</p>
            </Confirm>
          )}
        </li>
      ))}
    </ul>
  );
}

function heard({ last_heard_at }: DeviceEntry): string {
  if (last_heard_at === null) return t('shell.crew.never');
  return t('shell.crew.heard', { ago: formatDuration(Math.max(0, now.value.getTime() - Date.parse(last_heard_at)) / 60_000) });
}
