// What a foreman may try, and the changes that makes. Nothing here is recorded. No DOM.
import type { WhatIf, WhatIfLoad } from './contract';

export type Levers = {
  readonly shift_minutes: number;
  readonly people: number;
  readonly mats: number;
  /** Share of the usual dose, by load. */
  readonly retarder: Readonly<Record<string, number>>;
  /** More volume, by load [m3]; below zero less. */
  readonly more_m3: Readonly<Record<string, number>>;
  /** Steps of cooler concrete: 0 none, 1 chilled water, then ice with it. */
  readonly cool: number;
};

export const DOSE_STEP = 0.5;
export const MOST_DOSE = 1;
export const COOL_WATER_C = 4;
export const ICE_STEP_KG_M3 = 20;
const leastLeft = 0.2;

export const asItStands = (base: Pick<WhatIf, 'crew'>): Levers => ({
  shift_minutes: 0, people: base.crew?.people ?? 0, mats: base.crew?.mats ?? 0, retarder: {}, more_m3: {}, cool: 0,
});

export const iceOf = (cool: number): number => Math.max(0, cool - 1) * ICE_STEP_KG_M3;
export const mostCool = (base: Pick<WhatIf, 'most_ice_kg_m3'>): number => 1 + Math.floor((base.most_ice_kg_m3 ?? 0) / ICE_STEP_KG_M3);
/** No more is taken off a load than leaves a fifth of it. */
export const leastMore_m3 = (load: WhatIfLoad, thickness_m: number): number => -(1 - leastLeft) * load.area_m2 * thickness_m;

/** The changes as the engine takes them; empty when all stands as it is. */
export function changesOf(levers: Levers, base: WhatIf): readonly Readonly<Record<string, unknown>>[] {
  const changes: Record<string, unknown>[] = [];
  const waiting = base.loads.filter((load) => !load.batched);
  if (levers.shift_minutes !== 0) changes.push({ change: 'start_shift', minutes: levers.shift_minutes });
  if (base.crew && levers.people !== base.crew.people) changes.push({ change: 'people', people: levers.people });
  if (base.crew && levers.mats !== base.crew.mats) changes.push({ change: 'mats', mats: levers.mats });
  for (const { id } of waiting) {
    const dose = levers.retarder[id] ?? 0;
    if (dose > 0) changes.push({ change: 'retarder', load: id, type: 'D', dose });
  }
  for (const load of base.loads.filter(({ placed }) => !placed)) {
    const more_m3 = levers.more_m3[load.id] ?? 0;
    if (more_m3 !== 0 && base.thickness_m) changes.push({ change: 'area', load: load.id, area_m2: Number((load.area_m2 + more_m3 / base.thickness_m).toFixed(3)) });
  }
  if (levers.cool > 0 && waiting.length > 0) {
    const ice = iceOf(levers.cool);
    changes.push({ change: 'cool', load: null, water_temp_c: COOL_WATER_C, ...(ice > 0 ? { ice_kg_m3: ice } : {}) });
  }
  return changes;
}
