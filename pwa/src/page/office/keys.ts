// Moving over the board by keys: up and down from job to job, left and right along its links, "/" to the search.

const steps: Readonly<Record<string, number>> = { ArrowDown: 1, ArrowUp: -1 };

/** Moves the focus among the links of the rows; other keys go on. */
export function moveByKey(event: KeyboardEvent): void {
  const { target, currentTarget } = event;
  if (!(target instanceof HTMLElement) || !(currentTarget instanceof HTMLElement)) return;
  const row = target.closest<HTMLElement>('tr');
  if (!row || event.altKey || event.ctrlKey || event.metaKey) return;
  const rows = [...currentTarget.querySelectorAll<HTMLElement>('tr')];
  const next = event.key.startsWith('Arrow') && !(event.key in steps)
    ? along(row, target, event.key === 'ArrowRight' ? 1 : -1)
    : links(rows[to(event.key, rows.indexOf(row), rows.length)])[0];
  if (!next) return;
  event.preventDefault();
  next.focus();
}

function to(key: string, at: number, count: number): number {
  if (key === 'Home') return 0;
  if (key === 'End') return count - 1;
  const step = steps[key];
  return step === undefined ? -1 : at + step;
}

const links = (row: HTMLElement | undefined): readonly HTMLElement[] => [...(row?.querySelectorAll<HTMLElement>('a') ?? [])];
const along = (row: HTMLElement, from: HTMLElement, step: number): HTMLElement | undefined => {
  const all = links(row);
  return all[all.indexOf(from) + step];
};

/** "/" goes to the search, unless someone is typing. Returns how to stop. */
export function toSearchByKey(search: () => HTMLElement | null): () => void {
  const hear = (event: KeyboardEvent): void => {
    const typing = event.target instanceof HTMLElement && event.target.matches('input, textarea, select, [contenteditable]');
    if (event.key !== '/' || typing || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    search()?.focus();
  };
  addEventListener('keydown', hear);
  return () => removeEventListener('keydown', hear);
}
