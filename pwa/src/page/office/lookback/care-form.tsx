import { useState } from 'preact/hooks';
import { ROLES, type CareSet } from '../../../shared/events';
import type { JobView } from '../../../shared/job';
import { Button, NumberField } from '../../look';
import { me } from '../../sync/state';
import { t } from '../../words';
import { NotKept } from './callback-form';
import { keep } from './keep';

const ROWS = [
  { name: 'walk_h', word: 'walk', unit: 'h', max: 720, step: 12 },
  { name: 'drive_h', word: 'drive', unit: 'h', max: 2160, step: 24 },
  { name: 'wash_days', word: 'wash', unit: 'days', max: 90, step: 1 },
  { name: 'reseal_months', word: 'reseal', unit: 'months', max: 120, step: 6 },
] as const;

/** When the owner may walk, drive and wash, and when to reseal: as set here, else common practice. */
export function CarePart({ job }: { readonly job: JobView }) {
  const [open, setOpen] = useState(false);
  const may = me.value !== null && ROLES['care.set'].includes(me.value.role);
  return (
    <section class="block" aria-labelledby="care-card">
      <div class="block-head">
        <h2 id="care-card">{t('lookback.care')}</h2>
        {may && <span class="no-print"><Button expanded={open} label={`${t(open ? 'lookback.care.close' : 'lookback.care.change')}: ${t('lookback.care')}`} onPress={() => setOpen(!open)}>{t(open ? 'lookback.care.close' : 'lookback.care.change')}</Button></span>}
      </div>
      {open ? <CareForm job={job} onDone={() => setOpen(false)} /> : <CareFacts job={job} />}
    </section>
  );
}

function CareFacts({ job }: { readonly job: JobView }) {
  return (
    <dl class="facts">
      {ROWS.map(({ name, word, unit }) => {
        const value = job.care?.[name] ?? null;
        return (
          <div key={name} class="facts-row">
            <dt>{t(`lookback.care.${word}`)}</dt>
            <dd>{value === null ? t('lookback.care.usual', { value: t(`lookback.care.${word}.usual`) }) : `${value} ${t(`lookback.unit.${unit}`)}`}</dd>
          </div>
        );
      })}
    </dl>
  );
}

type CareDraft = { readonly [K in (typeof ROWS)[number]['name']]: number | null };

function CareForm({ job, onDone }: { readonly job: JobView; readonly onDone: () => void }) {
  const { care } = job;
  const [draft, setDraft] = useState<CareDraft>({ walk_h: care?.walk_h ?? null, drive_h: care?.drive_h ?? null, wash_days: care?.wash_days ?? null, reseal_months: care?.reseal_months ?? null });
  const save = async (): Promise<void> => {
    if (await keep(job.id, 'care.set', draft satisfies CareSet, t('lookback.did.care'))) onDone();
  };
  const put = (part: Partial<CareDraft>): void => setDraft((before) => ({ ...before, ...part }));
  return (
    <div class="stack">
      <p>{t('lookback.care.how')}</p>
      {ROWS.map(({ name, word, unit, max, step }) => (
        <NumberField key={name} label={t(`lookback.care.${word}`)} value={draft[name]} unit={t(`lookback.unit.${unit}`)} min={name === 'reseal_months' ? 1 : 0} max={max} step={step} hint={t('lookback.care.usual', { value: t(`lookback.care.${word}.usual`) })} onCommit={(value) => put({ [name]: value })} onClear={() => put({ [name]: null })} />
      ))}
      <NotKept />
      <div class="actions"><Button kind="main" onPress={() => void save()}>{t('lookback.care.save')}</Button></div>
    </div>
  );
}
