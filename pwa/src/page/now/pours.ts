import type { JobView } from '../../shared/job';
import { localDay } from '../look/tide/moment';
import type { JobOutlook } from '../sync/contract';

/** Limits at which a planned pour wants a second look; concrete practice asks for them by these names. */
const HOT_C = 32; // hot-weather care; ACI 305R, from memory, not verified
const COLD_C = 4.4; // air below 40 °F is cold weather; ACI 306R
const DRYING_KG_M2_H = 1.0; // evaporation above which plastic cracks are likely; ACI 305R, from memory, not verified
const HOUR_MS = 3_600_000;

export type FactName = 'air' | 'humidity' | 'drying' | 'cover';

/** One thing to go over before a pour. `watch` asks for a second look; `missing` says there is nothing to go by. */
export interface Fact {
  readonly name: FactName;
  readonly state: 'fine' | 'watch' | 'missing';
  readonly values: Readonly<Record<string, number | string>>;
}

export interface PourAhead {
  /** When the first load is due; null when the job has no order. */
  readonly at: Date | null;
  /** The set time is more than an hour gone and no load is logged. */
  readonly overdue: boolean;
  readonly facts: readonly Fact[];
}

/** What is known of the weather of a planned pour. */
export function pourAhead(job: JobView, look: JobOutlook | null, now: Date): PourAhead {
  if (!job.order) return { at: null, overdue: false, facts: [] };
  const at = new Date(job.order.pour_at);
  const facts = [...dayFacts(job, at), dryingFact(look, at), coverFact(look, at)];
  return {
    at,
    overdue: now.getTime() - at.getTime() > HOUR_MS,
    facts: facts.filter((fact) => fact !== null),
  };
}

/** Air and humidity, from the day entered by hand. */
function dayFacts(job: JobView, at: Date): Fact[] {
  const zone = job.opened?.time_zone ?? 'UTC';
  const day = job.weather_days.find((one) => one.date === localDay(at, zone));
  if (!day) return [];
  const rough = day.high_c >= HOT_C || day.low_c < COLD_C;
  const air: Fact = {
    name: 'air',
    state: rough ? 'watch' : 'fine',
    values: { low_c: day.low_c, high_c: day.high_c },
  };
  const humidity: Fact = { name: 'humidity', state: 'fine', values: { rh: day.rh, wind_kmh: day.wind_kmh } };
  return [air, humidity];
}

/** The strongest drying of the first six hours, from the planned loads' curves. */
function dryingFact(look: JobOutlook | null, at: Date): Fact | null {
  const end = at.getTime() + 6 * HOUR_MS;
  const rates = (look?.timeline?.loads ?? [])
    .flatMap((load) => load.curve)
    .filter((point) => Date.parse(point.at) <= end)
    .map((point) => point.evaporation_kg_m2_h);
  if (rates.length === 0) return null;
  const peak = Math.max(...rates);
  return { name: 'drying', state: peak >= DRYING_KG_M2_H ? 'watch' : 'fine', values: { rate_kg_m2_h: peak } };
}

/** Whether weather is known for the pour and the day after it. */
function coverFact(look: JobOutlook | null, at: Date): Fact {
  const weather = look?.weather;
  const known = weather && weather.source !== 'none' && weather.covers_to;
  if (!known) return { name: 'cover', state: 'missing', values: {} };
  const enough = Date.parse(known) >= at.getTime() + 24 * HOUR_MS;
  return { name: 'cover', state: enough ? 'fine' : 'watch', values: { label: weather.label, to: known } };
}
