// A code for one person: shown large to type, as a link to send, and as a picture to scan.
import { useEffect, useState } from 'preact/hooks';
import { formatTime } from '../../../shared/units';
import { Button, Choice, Field, Notice } from '../../look';
import type { Role } from '../../sync/contract';
import { invite, type Invite } from '../../sync/session';
import { t } from '../../words';
import { useDraft } from '../drafts';
import { sayError } from '../trouble';

const roles: readonly Role[] = ['crew', 'foreman', 'office'];

export function AskIn() {
  const [role, setRole] = useState<Role>('crew');
  const [name, setName, clearName] = useDraft('invite.name');
  const [made, setMade] = useState<Invite | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const ask = async (): Promise<void> => {
    try {
      setMade(await invite(role, name));
      setProblem(null);
      clearName();
    } catch (error) {
      setProblem(sayError(error));
    }
  };
  return (
    <div class="stack">
      <Choice label={t('shell.invite.role')} value={role} options={roles.map((value) => ({ value, label: t(`shell.role.${value}`) }))} onPick={setRole} />
      <Field label={t('shell.invite.name')} hint={t('shell.invite.nameHint')}>
        <input class="look-input" value={name} maxLength={80} onInput={(event) => setName((event.currentTarget as HTMLInputElement).value)} />
      </Field>
      {problem !== null && <Notice tone="warn" title={t('shell.invite.failed')} announce><p>{problem}</p></Notice>}
      <div class="actions"><Button onPress={() => void ask()}>{t('shell.invite.make')}</Button></div>
      {made && <InviteCard invite={made} />}
    </div>
  );
}

/** A drawing that stands alone must name its language. */
const asFile = (svg: string): string => (svg.includes('xmlns=') ? svg : svg.replace('<svg', '<svg xmlns="http://www.w3.org/2000/svg"'));

function InviteCard({ invite: made }: { readonly invite: Invite }) {
  const [picture, setPicture] = useState<string | null>(null);
  useEffect(() => {
    // the page's policy lets no markup in from outside: the drawing is shown as an image of its own
    const url = URL.createObjectURL(new Blob([asFile(made.qr_svg)], { type: 'image/svg+xml' }));
    setPicture(url);
    return () => URL.revokeObjectURL(url);
  }, [made]);
  const until = formatTime(new Date(made.expires_at), Intl.DateTimeFormat().resolvedOptions().timeZone);
  return (
    <div class="panel stack" role="status">
      <p class="big-time">{made.code}</p>
      <p>{t('shell.invite.until', { role: t(`shell.role.${made.role}`), until })}</p>
      {picture && <img class="shell-qr" src={picture} alt={t('shell.invite.picture', { code: made.code })} width={240} height={240} />}
      <p class="shell-link">{made.link}</p>
      {typeof navigator.share === 'function' && (
        <div class="actions"><Button onPress={() => void navigator.share({ url: made.link }).catch(() => undefined)}>{t('shell.invite.send')}</Button></div>
      )}
    </div>
  );
}
