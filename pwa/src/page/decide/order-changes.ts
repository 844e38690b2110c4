// What a what-if asks of the order, the plant and the crew, thing by thing. No DOM.
import type { JobView } from '../../shared/job';
import type { WhatIf, WhatIfAnswer } from './contract';
import { iceOf, type Levers } from './levers';

export type OrderChange =
  | { readonly what: 'start'; readonly time: string; readonly was: string }
  | { readonly what: 'volume'; readonly load: number; readonly volume_m3: number; readonly was_m3: number }
  | { readonly what: 'total'; readonly volume_m3: number; readonly was_m3: number }
  | { readonly what: 'retarder'; readonly load: number; readonly share: number }
  | { readonly what: 'water' | 'ice'; readonly ice_kg_m3: number; readonly temp_c: number | null }
  | { readonly what: 'crew'; readonly people: number; readonly mats: number };

export function orderChanges(levers: Levers, base: WhatIf, job: Pick<JobView, 'order'>, answer: WhatIfAnswer | null): readonly OrderChange[] {
  const found: OrderChange[] = [];
  const waiting = base.loads.filter(({ batched }) => !batched);
  const first = waiting[0];
  if (levers.shift_minutes !== 0 && first) {
    const was = new Date(first.placed_from);
    found.push({ what: 'start', time: new Date(was.getTime() + levers.shift_minutes * 60_000).toISOString(), was: was.toISOString() });
  }
  const thick_m = base.thickness_m ?? 0;
  const more = base.loads.filter(({ id, placed }) => !placed && (levers.more_m3[id] ?? 0) !== 0);
  for (const { id, number, area_m2 } of more) found.push({ what: 'volume', load: number, volume_m3: area_m2 * thick_m + (levers.more_m3[id] ?? 0), was_m3: area_m2 * thick_m });
  if (more.length > 0 && job.order) {
    const was_m3 = job.order.volume_m3;
    found.push({ what: 'total', volume_m3: was_m3 + more.reduce((sum, { id }) => sum + (levers.more_m3[id] ?? 0), 0), was_m3 });
  }
  for (const { id, number } of waiting) {
    const share = levers.retarder[id] ?? 0;
    if (share > 0) found.push({ what: 'retarder', load: number, share });
  }
  if (levers.cool > 0 && first) {
    const ice_kg_m3 = iceOf(levers.cool);
    found.push({ what: ice_kg_m3 > 0 ? 'ice' : 'water', ice_kg_m3, temp_c: answer?.loads.find(({ id }) => id === first.id)?.concrete_temp_c ?? null });
  }
  if (base.crew && (levers.people !== base.crew.people || levers.mats !== base.crew.mats)) found.push({ what: 'crew', people: levers.people, mats: levers.mats });
  return found;
}
