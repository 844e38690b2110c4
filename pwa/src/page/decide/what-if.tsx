import { useState } from 'preact/hooks';
import type { JobView } from '../../shared/job';
import { formatDuration, formatTemp, formatVolume } from '../../shared/units';
import { Button, Screen } from '../look';
import { now } from '../shell/now';
import { units } from '../shell/preferences';
import { t } from '../words';
import { sayIce } from './amounts';
import { askWhatIf } from './ask';
import type { WhatIf } from './contract';
import { asItStands, changesOf, COOL_WATER_C, DOSE_STEP, iceOf, leastMore_m3, MOST_DOSE, mostCool, type Levers } from './levers';
import { TakenForGranted } from './assumed';
import { Beside } from './beside';
import { orderChanges } from './order-changes';
import { OrderPanel } from './order-panel';
import { Stepper } from './stepper';
import { InTheWay, useTold } from './told';

const shiftStepMin = 15;
const longestShiftMin = 6 * 60;

/** Tries changes to the pour: nothing is recorded. */
export function WhatIfScreen({ job }: { readonly job: JobView }) {
  const first = useTold<WhatIf>(() => askWhatIf<WhatIf>(job.id, []), stamp(job), 0);
  const base = first.told?.at === 'told' && first.told.answer.loads.length > 0 ? first.told.answer : null;
  return (
    <Screen title={t('decide.whatIf')} under={job.name} back={`#/job/${job.id}/${job.phase.replace('_', '-')}`} wide>
      <p class="soft">{t('decide.nothingRecorded')}</p>
      <InTheWay told={first.told} />
      {first.busy && !base && <p role="status">{t('decide.working')}</p>}
      {base && <Trying key={base.loads.map(({ id, batched }) => `${id}${String(batched)}`).join()} job={job} base={base} />}
    </Screen>
  );
}

/** Changes when something that the pour rests on may have. */
const stamp = (job: JobView): string => [...[job.slab, job.mix, job.order, job.crew].map((one) => one?.event), ...job.loads.map((load) => `${load.event}${load.placed?.event ?? ''}`), ...job.checks.map((check) => check.event)].join();

function Trying({ job, base }: { readonly job: JobView; readonly base: WhatIf }) {
  const [levers, setLevers] = useState<Levers>(() => asItStands(base));
  const changes = changesOf(levers, base);
  const question = JSON.stringify(changes);
  const { told, busy } = useTold<WhatIf>(() => askWhatIf<WhatIf>(job.id, changes), `${question}${stamp(job)}`, 250);
  const answer = told?.at === 'told' ? told.answer.answer : null;
  const tried = changes.length > 0;
  return (
    <div class="decide-try">
      <div class="stack">
        <LeverKeys base={base} levers={levers} onChange={(part) => setLevers((before) => ({ ...before, ...part }))} />
        <p class="soft">{t('decide.plantDecides')}</p>
        {tried && <Button onPress={() => setLevers(asItStands(base))}>{t('decide.reset')}</Button>}
        {tried && <OrderPanel job={job} changes={orderChanges(levers, base, job, busy ? null : answer)} now={now.value} />}
      </div>
      <div class="stack" aria-live="polite" aria-busy={busy}>
        {!tried && <p>{t('decide.tryOne')}</p>}
        {tried && <InTheWay told={told} />}
        {tried && busy && <p role="status">{t('decide.working')}</p>}
        {tried && answer && <Beside job={job} base={base} answer={answer} now={now.value} old={busy} />}
        <TakenForGranted answer={base} />
      </div>
    </div>
  );
}

type KeysProps = { readonly base: WhatIf; readonly levers: Levers; readonly onChange: (part: Partial<Levers>) => void };

function LeverKeys({ base, levers, onChange }: KeysProps) {
  const waiting = base.loads.filter((load) => !load.batched);
  const step = (value: number, by: number, least: number, most: number, set: (next: number) => void): (() => void) | null => {
    const next = value + by;
    return next < least - 1e-9 || next > most + 1e-9 ? null : () => set(next);
  };
  const pair = (value: number, by: number, least: number, most: number, set: (next: number) => void) => ({ onLess: step(value, -by, least, most, set), onMore: step(value, by, least, most, set) });
  return (
    <div class="stack">
      {waiting.length > 0 && <Stepper label={t('decide.lever.start')} value={sayShift(levers.shift_minutes)} {...pair(levers.shift_minutes, shiftStepMin, -longestShiftMin, longestShiftMin, (shift_minutes) => onChange({ shift_minutes }))} />}
      {base.crew && <Stepper label={t('decide.lever.people')} value={String(levers.people)} note={t('decide.is', { value: base.crew.people })} {...pair(levers.people, 1, 1, 20, (people) => onChange({ people }))} />}
      {base.crew && <Stepper label={t('decide.lever.mats')} value={String(levers.mats)} note={t('decide.is', { value: base.crew.mats })} {...pair(levers.mats, 1, 1, 60, (mats) => onChange({ mats }))} />}
      {!base.crew && <p>{t('decide.noCrew')}</p>}
      {waiting.map(({ id, number }) => {
        const dose = levers.retarder[id] ?? 0;
        return <Stepper key={id} label={t('decide.lever.retarder', { load: number })} value={dose === 0 ? t('decide.none') : t('decide.dose', { percent: Math.round(dose * 100) })} {...pair(dose, DOSE_STEP, 0, MOST_DOSE, (next) => onChange({ retarder: { ...levers.retarder, [id]: next } }))} />;
      })}
      {base.loads.filter(({ placed }) => !placed).map((load) => <VolumeKeys key={load.id} base={base} id={load.id} levers={levers} onChange={onChange} pair={pair} />)}
      {waiting.length > 0 && <Stepper label={t('decide.lever.cool')} value={sayCool(levers.cool)} {...pair(levers.cool, 1, 0, mostCool(base), (cool) => onChange({ cool }))} />}
    </div>
  );
}

type Pair = (value: number, by: number, least: number, most: number, set: (next: number) => void) => { readonly onLess: (() => void) | null; readonly onMore: (() => void) | null };

function VolumeKeys({ base, id, levers, onChange, pair }: KeysProps & { readonly id: string; readonly pair: Pair }) {
  const load = base.loads.find((one) => one.id === id);
  const thick_m = base.thickness_m;
  if (!load || !thick_m) return null;
  const step_m3 = units.value === 'us' ? 0.25 * 0.764554857984 : 0.25;
  const more_m3 = levers.more_m3[id] ?? 0;
  const set = (next: number): void => onChange({ more_m3: { ...levers.more_m3, [id]: Math.abs(next) < 1e-9 ? 0 : next } });
  const volume_m3 = load.area_m2 * thick_m;
  return <Stepper label={t('decide.lever.volume', { load: load.number })} value={formatVolume(volume_m3 + more_m3, units.value)} note={t('decide.is', { value: formatVolume(volume_m3, units.value) })} {...pair(more_m3, step_m3, leastMore_m3(load, thick_m), volume_m3, set)} />;
}

function sayShift(minutes: number): string {
  if (minutes === 0) return t('decide.asPlanned');
  return t(minutes > 0 ? 'decide.later' : 'decide.earlier', { left: formatDuration(Math.abs(minutes)) });
}

function sayCool(cool: number): string {
  if (cool === 0) return t('decide.none');
  const ice = iceOf(cool);
  const water = formatTemp(COOL_WATER_C, units.value);
  if (ice === 0) return t('decide.chilled', { water });
  return t('decide.iced', { ice: sayIce(ice) });
}
