import type { ComponentChildren } from 'preact';
import { useId } from 'preact/hooks';
import { t } from '../../words';
import type { Named } from './contract';
import { sayDate } from './say';

type PartProps = { readonly title: string; readonly finding: string; readonly children?: ComponentChildren };

/** One question: its plot, and under it the answer in a sentence. */
export function Part({ title, finding, children }: PartProps) {
  const id = useId();
  return (
    <section class="panel stack back-part" aria-labelledby={id}>
      <h2 id={id}>{title}</h2>
      <p class="back-finding">{finding}</p>
      {children}
    </section>
  );
}

export type Column<T> = { readonly name: string; readonly cell: (row: T) => ComponentChildren };

type TableProps<T> = { readonly caption: string; readonly columns: readonly Column<T>[]; readonly rows: readonly T[] };

/** A table whose first column names the row. */
export function Table<T>({ caption, columns, rows }: TableProps<T>) {
  const [first, ...others] = columns;
  if (!first) return null;
  return (
    <div class="scroll-x" tabIndex={0} role="group" aria-label={caption}>
      <table class="back-table">
        <caption class="visually-hidden">{caption}</caption>
        <thead><tr>{columns.map(({ name }) => <th key={name} scope="col">{name}</th>)}</tr></thead>
        <tbody>
          {rows.map((row, n) => (
            <tr key={n}>
              <th scope="row">{first.cell(row)}</th>
              {others.map(({ name, cell }) => <td key={name}>{cell(row)}</td>)}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** Every point of a plot in numbers, newest first, behind one touch; on paper they stay folded. */
export function Numbers<T extends Named>({ caption, columns, points }: { readonly caption: string; readonly columns: readonly Column<T>[]; readonly points: readonly T[] }) {
  const named: readonly Column<T>[] = [
    { name: t('lookback.col.job'), cell: ({ job, name }) => <a href={`#/office/${job}`}>{name}</a> },
    { name: t('lookback.col.day'), cell: ({ day }) => sayDate(day) },
    ...columns,
  ];
  return (
    <details class="back-numbers">
      <summary>{t('lookback.numbers')}</summary>
      <Table caption={`${caption}: ${t('lookback.numbers')}`} columns={named} rows={[...points].reverse()} />
    </details>
  );
}
