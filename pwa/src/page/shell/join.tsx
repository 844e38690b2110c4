// Joining a crew: with the link's code, or one typed from the foreman's screen.
import { useState } from 'preact/hooks';
import { emptied } from '../log/emptied';
import { unsent } from '../log/journal';
import { Button, Choice, Field, Notice, Screen, sayMoment } from '../look';
import { join, tidyCode } from '../sync/session';
import { me } from '../sync/state';
import { language, t } from '../words';
import { useDraft } from './drafts';
import { KeptCopies } from './kept-copies';
import { askToKeep } from './keep';
import { now } from './now';
import { sayError } from './trouble';

const codeLength = 8;
const valueOf = (event: Event): string => (event.currentTarget as HTMLInputElement).value;

export function JoinScreen({ code: given, onJoined }: { readonly code: string; readonly onJoined: () => void }) {
  const [typed, setTyped, clearTyped] = useDraft('join.code');
  const [name, setName, clearName] = useDraft('join.name', me.peek()?.name ?? '');
  const [busy, setBusy] = useState(false);
  const [problem, setProblem] = useState<string | null>(null);
  const code = typed === '' ? given : typed;
  const waiting = unsent.value.count;

  const send = async (): Promise<void> => {
    if (tidyCode(code).length !== codeLength) return setProblem(t('shell.join.codeShort'));
    if (name.trim() === '') return setProblem(t('shell.join.nameMissing'));
    setBusy(true);
    try {
      await join(code, name);
      clearTyped();
      clearName();
      await askToKeep();
      onJoined();
    } catch (error) {
      setProblem(sayError(error));
    } finally {
      setBusy(false);
    }
  };
  const submit = (event: Event): void => {
    event.preventDefault();
    if (!busy) void send();
  };
  return (
    <Screen title={t('shell.join.title')}>
      <p>{t('shell.join.words')}</p>
      <Emptied />
      {waiting > 0 && <Notice tone="warn" title={t('shell.join.unsent', { count: waiting })}><p>{t('shell.join.unsentWords')}</p></Notice>}
      <form class="stack" onSubmit={submit} noValidate>
        <Choice label={t('shell.settings.language')} value={language.value} options={languages} onPick={(picked) => { language.value = picked; }} />
        <Field label={t('shell.join.code')} hint={t('shell.join.codeHint')}>
          <input class="look-input shell-code" value={code} onInput={(event) => setTyped(valueOf(event))} autocapitalize="characters" autocomplete="one-time-code" spellcheck={false} maxLength={20} />
        </Field>
        <Field label={t('shell.join.name')} hint={t('shell.join.nameHint')}>
          <input class="look-input" value={name} onInput={(event) => setName(valueOf(event))} autocomplete="name" maxLength={80} />
        </Field>
        {problem !== null && <Notice tone="warn" title={t('shell.join.failed')} announce><p>{problem}</p></Notice>}
        <Button kind="main" wide submit onPress={() => undefined} disabled={busy}>{t(busy ? 'shell.join.busy' : 'shell.join.go')}</Button>
      </form>
      <KeptCopies />
    </Screen>
  );
}

/** Why a phone that had joined stands here again. */
function Emptied() {
  const lost = emptied.value;
  if (!lost) return null;
  const since = lost.oldestAt === null ? '' : sayMoment(new Date(lost.oldestAt), now.value, Intl.DateTimeFormat().resolvedOptions().timeZone);
  return (
    <Notice tone="stop" title={t('shell.emptied.title')} announce>
      <p>{t('shell.emptied.sent')}</p>
      <p>{lost.count === 0 ? t('shell.emptied.none') : t('shell.emptied.lost', { count: lost.count, since })}</p>
    </Notice>
  );
}

const languages = [
  { value: 'en', label: 'English' },
  { value: 'es', label: 'Español' },
] as const;
