import type { ComponentChildren } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { Notice } from '../look';
import type { Trouble } from '../sync/contract';
import { t } from '../words';
import type { Told } from './ask';
import { sayProblem } from './problem';

export type Asking<T> = { readonly told: Told<T> | null; readonly busy: boolean };

/** Asks again, a moment after the question changes; the last answer stays until the next is here. */
export function useTold<T>(ask: () => Promise<Told<T>>, question: string, waitMs: number): Asking<T> {
  const [told, setTold] = useState<Told<T> | null>(null);
  const [busy, setBusy] = useState(true);
  useEffect(() => {
    let wanted = true;
    setBusy(true);
    const timer = setTimeout(() => {
      ask().then(
        (found) => wanted && (setTold(found), setBusy(false)),
        (error: unknown) => {
          console.error(error);
          if (wanted) {
            setTold({ at: 'missing' });
            setBusy(false);
          }
        },
      );
    }, waitMs);
    return () => {
      wanted = false;
      clearTimeout(timer);
    };
  }, [question]);
  return { told, busy };
}

/** What stands in the way of an answer; nothing when nothing does. */
export function InTheWay({ told, children }: { readonly told: Told<{ readonly problem: Trouble | null }> | null; readonly children?: ComponentChildren }) {
  if (!told) return null;
  if (told.at === 'missing') return <Notice tone="warn" title={t('decide.missing')}><p>{t('decide.missing.do')}</p>{children}</Notice>;
  const trouble = told.at === 'trouble' ? told.trouble : told.answer.problem;
  if (!trouble) return null;
  const { title, todo } = sayProblem(trouble);
  return <Notice tone="warn" title={title}>{todo && <p>{todo}</p>}{children}</Notice>;
}
