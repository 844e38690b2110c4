import { useEffect, useId, useRef } from 'preact/hooks';
import { TextField } from '../look';
import { t } from '../words';
import { toSearchByKey } from './keys';
import { PHASE_ORDER, type BoardChoice, type Show, type SortKey } from './state';

const SHOWS: readonly Show[] = ['all', 'late', 'open_hand'];
const SORTS: readonly SortKey[] = ['urgent', 'name', 'phase', 'pour', 'heard'];

interface Props {
  choice: BoardChoice;
  onChoose: (choice: BoardChoice) => void;
}

/** Search, phase, what to show and, on a phone where the table has no headings, the order. */
export function BoardFilters({ choice, onChoose }: Props) {
  const form = useRef<HTMLFormElement>(null);
  useEffect(() => toSearchByKey(() => form.current?.querySelector('input') ?? null), []);
  return (
    <form ref={form} class="board-filters no-print" role="search" onSubmit={(event) => event.preventDefault()}>
      <TextField
        label={t('office.search')}
        type="search"
        value={choice.search}
        onCommit={(search) => onChoose({ ...choice, search })}
        onType={(search) => onChoose({ ...choice, search })}
      />
      <Pick
        label={t('office.phase')}
        value={choice.phase}
        options={[
          ['', t('office.phase.all')],
          ...PHASE_ORDER.map((phase) => [phase, t(`shell.phase.${phase}`)] as const),
        ]}
        onPick={(phase) => onChoose({ ...choice, phase })}
      />
      <Pick
        label={t('office.show')}
        value={choice.show}
        options={SHOWS.map((show) => [show, t(`office.show.${show}`)] as const)}
        onPick={(show) => onChoose({ ...choice, show })}
      />
      <Pick
        label={t('office.sort')}
        value={choice.sort}
        options={SORTS.map((sort) => [sort, t(`office.sort.${sort}`)] as const)}
        onPick={(sort) => onChoose({ ...choice, sort, down: false })}
      />
    </form>
  );
}

interface PickProps<T extends string> {
  label: string;
  value: T;
  options: readonly (readonly [T, string])[];
  onPick: (value: T) => void;
}

function Pick<T extends string>({ label, value, options, onPick }: PickProps<T>) {
  const id = useId();
  return (
    <div class="look-field">
      <label class="look-field-label" for={id}>
        {label}
      </label>
      <select id={id} value={value} onChange={(event) => onPick(event.currentTarget.value as T)}>
        {options.map(([option, words]) => (
          <option key={option} value={option}>
            {words}
          </option>
        ))}
      </select>
    </div>
  );
}
