import { useEffect, useState } from 'preact/hooks';
import type { JobId } from '../../shared/events';
import { Button, Notice, Screen, sayMoment } from '../look';
import { isTold } from '../now/state';
import { now } from '../shell/now';
import { sayError } from '../shell/trouble';
import { callJson } from '../sync/call';
import type { Reminder, Role } from '../sync/contract';
import { inLanguage, isWordKey, t } from '../words';
import { notKept, acknowledge } from './acknowledge';
import './style.css';

interface Step {
  readonly step: string;
  readonly at: string;
  readonly who?: string;
  readonly role?: Role;
  readonly where?: string | null;
  readonly via?: string;
  readonly from?: string;
  readonly to?: string;
  readonly until?: string;
  readonly why?: string;
  readonly status?: number;
}

interface Life {
  readonly reminder: Reminder;
  readonly job: { readonly id: JobId; readonly name: string | null; readonly time_zone: string };
  readonly steps: readonly Step[];
}

const everyMs = 5_000;

/** One reminder from when it was planned to where it stands: every step, with its time. */
export function ReminderScreen({ id }: { id: string }) {
  const [life, problem, again] = useLife(id);
  if (!life) {
    return (
      <Screen title={t('office.reminder')} back="#/board">
        {problem ? <Notice tone="warn" title={problem} announce /> : <p role="status">{t('office.reminder.loading')}</p>}
        {problem && <div class="actions"><Button onPress={again}>{t('shell.tryAgain')}</Button></div>}
      </Screen>
    );
  }
  const { reminder, job, steps } = life;
  return (
    <Screen title={inLanguage(reminder.title)} back={`#/office/${job.id}`} under={job.name ?? ''}>
      {problem && <Notice tone="warn" title={problem} />}
      {notKept.value && <Notice tone="stop" title={notKept.value} announce />}
      <p>{inLanguage(reminder.words)}</p>
      <ol class="bare office-log">
        {steps.map((step, index) => (
          <li key={`${step.at}-${index}`}>
            <span class="time">{sayMoment(new Date(step.at), now.value, job.time_zone)}</span>
            <span>
              {sayStep(step, job.time_zone)}
              {step.why && step.step !== 'moved' && <span class="soft office-who">{sayWhy(step)}</span>}
            </span>
          </li>
        ))}
        {reminder.state === 'planned' && (
          <li>
            <span class="time">{sayMoment(new Date(reminder.due), now.value, job.time_zone)}</span>
            <span class="soft">{t('office.step.ahead')}</span>
          </li>
        )}
      </ol>
      {isTold(reminder, now.value) && (
        <div class="actions">
          <Button onPress={() => void acknowledge(reminder)}>{t('office.have_it')}</Button>
        </div>
      )}
    </Screen>
  );
}

function sayStep(step: Step, zone: string): string {
  const at = (iso: string | undefined): string => (iso ? sayMoment(new Date(iso), now.value, zone) : '');
  const key = `office.step.${step.step}`;
  const who = [step.who ?? t('office.step.somebody'), step.role && t(`shell.role.${step.role}`)].filter(Boolean).join(', ');
  const params = {
    who,
    from: at(step.from),
    to: step.step === 'escalated' ? roleWords(step.to) : at(step.to),
    until: at(step.until),
    where: [step.via && viaWords(step.via), step.where].filter(Boolean).join(', '),
  };
  return isWordKey(key) ? t(key, params) : step.step;
}

function roleWords(role: string | undefined): string {
  const key = `shell.role.${role}`;
  return isWordKey(key) ? t(key) : (role ?? '');
}

function viaWords(via: string): string {
  const key = `office.via.${via}`;
  return isWordKey(key) ? t(key) : via;
}

/** Why, in words where there are some; what a push service answered stands as it came. */
function sayWhy({ why, status }: Step): string {
  const key = `office.why.${why}`;
  const words = isWordKey(key) ? t(key) : (why ?? '');
  return status ? t('office.why.status', { words, status }) : words;
}

function useLife(id: string): [Life | null, string | null, () => void] {
  const [life, setLife] = useState<Life | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const [round, setRound] = useState(0);
  useEffect(() => {
    let current = true;
    const ask = (): void => {
      callJson<Life>(`/api/reminders/${encodeURIComponent(id)}`).then(
        (found) => { if (current) { setLife(found); setProblem(null); } },
        (error: unknown) => { if (current) setProblem(sayError(error)); },
      );
    };
    ask();
    const timer = setInterval(ask, everyMs);
    return () => { current = false; clearInterval(timer); };
  }, [id, round]);
  return [life, problem, () => setRound(round + 1)];
}
