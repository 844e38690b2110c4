// What the server says of a list of jobs: what is wrong in which cell, or what it would make.
import { Notice } from '../../look';
import { isWordKey, t } from '../../words';

export type Problem = {
  readonly row: number;
  readonly column: string;
  /** In English; in the person's language by `code` and `params`, which older servers don't send. */
  readonly message: string;
  readonly code?: string;
  readonly params?: Readonly<Record<string, string | number>>;
};
export type Told = {
  readonly kept: boolean;
  readonly new: number;
  readonly known: number;
  readonly jobs: readonly { readonly row: number; readonly job: string; readonly name: string; readonly state: 'new' | 'known' }[];
  readonly left_aside: readonly string[];
};

/** The wrong cells an answer names; none where it names none. */
export function problemsIn(body: unknown): readonly Problem[] {
  if (typeof body !== 'object' || body === null || !('problems' in body) || !Array.isArray(body.problems)) return [];
  return body.problems as readonly Problem[];
}

/** What is wrong with a cell, in the person's language where its code is known. */
export function sayProblem({ code, params, message }: Problem): string {
  const key = `bringIn.problem.${code}`;
  return isWordKey(key) ? t(key, params) : message;
}

export function Problems({ problems }: { readonly problems: readonly Problem[] }) {
  return (
    <>
      <Notice tone="warn" title={t('bringIn.wrong', { count: problems.length })} announce />
      <div class="scroll-x" tabIndex={0} role="group" aria-label={t('bringIn.what')}>
        <table class="shell-table">
          <thead><tr><th scope="col">{t('bringIn.row')}</th><th scope="col">{t('bringIn.column')}</th><th scope="col">{t('bringIn.what')}</th></tr></thead>
          <tbody>
            {problems.map((problem) => (
              <tr key={`${problem.row}-${problem.column}-${problem.message}`}><td>{problem.row}</td><td>{problem.column}</td><td>{sayProblem(problem)}</td></tr>
            ))}
          </tbody>
        </table>
      </div>
    </>
  );
}

export function Rows({ told }: { readonly told: Told }) {
  const head = told.kept ? t('bringIn.done', { new: told.new }) : told.new === 0 ? t('bringIn.none') : t('bringIn.look', { new: told.new, known: told.known });
  return (
    <>
      <p role="status"><strong>{head}</strong></p>
      {told.left_aside.length > 0 && <p class="soft">{t('bringIn.left', { columns: told.left_aside.join(', ') })}</p>}
      <div class="scroll-x" tabIndex={0} role="group" aria-label={t('bringIn.name')}>
        <table class="shell-table">
          <thead><tr><th scope="col">{t('bringIn.row')}</th><th scope="col">{t('bringIn.name')}</th><th scope="col">{t('bringIn.state')}</th></tr></thead>
          <tbody>
            {told.jobs.map(({ row, job, name, state }) => (
              <tr key={row}><td>{row}</td><td>{told.kept || state === 'known' ? <a href={`#/job/${job}`}>{name}</a> : name}</td><td>{t(`bringIn.${state}`)}</td></tr>
            ))}
          </tbody>
        </table>
      </div>
    </>
  );
}
