import type { Event } from '../../shared/event';
import type { JobView } from '../../shared/job';
import { isWordKey, t } from '../words';

/** What sort of entry it is; a kind newer than this app by its plain name. */
export function kindWords(kind: string): string {
  const key = `shell.kind.${kind}`;
  return isWordKey(key) ? t(key) : kind;
}

/** What an entry is about, where a word or two tell it: the load, the bay and step, the item, the person's own note. */
export function detailOf(event: Event, job: JobView): string {
  const bay = 'bay' in event.body ? job.bays.find((one) => one.id === bayIn(event)) : undefined;
  const load = 'load' in event.body ? job.loads.find((one) => one.id === loadIn(event)) : undefined;
  const note = 'note' in event.body ? event.body.note : null;
  const parts = [
    bay && bayWords(bay.label),
    !bay && load && t('layout.load', { number: load.number }),
    event.kind === 'bay.worked' && t(`pour.step.${event.body.step}`),
    event.kind === 'item.ticked' && itemWords(event.body.list, event.body.item),
    event.kind === 'note.written' && event.body.text,
    note,
  ];
  return parts.filter(Boolean).join(', ');
}

/** A bay by its label; a bare letter or number gets the word. */
const bayWords = (label: string) => (label.length <= 2 ? t('layout.bay', { label }) : label);

const bayIn = (event: Event) => ('bay' in event.body ? event.body.bay : null);
const loadIn = (event: Event) => ('load' in event.body ? event.body.load : null);

function itemWords(list: string, item: string): string {
  const key = `ready.item.${list}.${item}`;
  return isWordKey(key) ? t(key) : item;
}
