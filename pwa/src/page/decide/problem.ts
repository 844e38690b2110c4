// What stands in the way of an answer, in the person's language, by its code and numbers.
import { sayMoment } from '../look';
import { correctedNow } from '../shell/now';
import { sayTrouble } from '../shell/trouble';
import type { Trouble } from '../sync/contract';
import { isWordKey, language, t } from '../words';

type Said = { readonly title: string; readonly todo: string };

/** What is wrong and what to do: in the server's own words, or in another language by its code and numbers. */
export function sayProblem(problem: Trouble): Said {
  const { said, times_of } = problem.params ?? {};
  const own = language.value === 'en' ? { title: String(said ?? problem.message), todo: problem.do } : byCode(problem);
  if (typeof times_of !== 'string') return own;
  const time = sayMoment(new Date(times_of), correctedNow(), Intl.DateTimeFormat().resolvedOptions().timeZone);
  return { ...own, todo: `${own.todo} ${t('now.problem.timesOf', { time })}`.trim() };
}

function byCode(problem: Trouble): Said {
  const params = wordsOf(problem.params ?? {});
  const key = `now.problem.${problem.code}`;
  const closer = `${key}.one`;
  const title = Object.keys(params).length > 0 && isWordKey(closer) ? closer : key;
  const todo = `${key}.do`;
  if (isWordKey(title) && isWordKey(todo)) return { title: t(title, params), todo: t(todo) };
  if (isWordKey(`trouble.${problem.code}`)) return { title: sayTrouble(problem), todo: '' };
  return { title: problem.message, todo: problem.do };
}

/** The day a problem names in words, and the entry it is about. */
function wordsOf({ day, entry, load }: NonNullable<Trouble['params']>): Readonly<Record<string, string>> {
  const named = `now.problem.entry.${String(entry)}`;
  return {
    ...(load === undefined ? {} : { load: String(load) }),
    ...(typeof day === 'string' ? { day: new Date(`${day}T12:00:00Z`).toLocaleDateString(language.value, { weekday: 'long', month: 'long', day: 'numeric', timeZone: 'UTC' }) } : {}),
    ...(isWordKey(named) ? { entry: t(named) } : {}),
  };
}
