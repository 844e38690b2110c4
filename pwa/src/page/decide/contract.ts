// What the engine says of pace, of what checks taught, of what-if and of the hour to pour. Amounts SI, times ISO 8601.
import type { LoadTimeline, Timeline, TimeWindow, Trouble, When } from '../sync/contract';

export type Slack = { readonly early: number; readonly likely: number; readonly late: number };
export type LoadPace = {
  readonly id: string;
  readonly reached: When;
  readonly finished: When;
  readonly closes: When;
  readonly slack_minutes: Slack;
  readonly chance_to_miss: number;
};
export type PaceChange = {
  readonly change: 'start_earlier' | 'one_more_hand' | 'another_set_of_mats' | 'smaller_pour' | 'retarder_in_later_loads';
  readonly amount: number;
  readonly unit: string;
  readonly chance_to_miss_after: number;
};
export type Pace = {
  readonly start: { readonly ready_at: string; readonly opens: When; readonly by: When | null };
  readonly loads: readonly LoadPace[];
  readonly chance_to_miss: number;
  readonly limiting: string;
  readonly changes: readonly PaceChange[];
};

type Seen = { readonly load: string; readonly at: string; readonly kind: 'footprint' | 'thumb' | 'mat_clean' | 'mat_sticks' | 'mat_refused' };
export type LearnedChange = Seen & {
  readonly percent_faster: number;
  readonly texture_closes_was: string | null;
  readonly texture_closes_now: string | null;
};
export type Learned = { readonly from_checks: number; readonly changes: readonly LearnedChange[]; readonly contradictory: readonly Seen[] };

/** Outlooks kept from earlier versions have neither; the race needs a start to be one. */
export function paceOf(timeline: Timeline | null | undefined): Pace | null {
  const pace = timeline?.pace;
  return pace && 'start' in pace && 'loads' in pace ? (pace as unknown as Pace) : null;
}

export const learnedOf = (load: LoadTimeline): Learned | null => (load as { learned?: Learned }).learned ?? null;

export type WhatIfLoad = {
  readonly id: string;
  readonly number: number;
  readonly batched: boolean;
  readonly placed: boolean;
  readonly area_m2: number;
  readonly concrete_temp_c: number;
};
type Beside = { readonly before: TimeWindow | null; readonly after: TimeWindow | null; readonly closes_later_minutes: number | null };
export type WhatIfAnswer = {
  readonly loads: readonly { readonly id: string; readonly concrete_temp_c: number; readonly windows: { readonly texture: Beside; readonly saw: Beside } }[];
  readonly pace: { readonly before: Pace | null; readonly after: Pace | null };
};
export type WhatIf = {
  readonly problem: Trouble | null;
  readonly assumptions: readonly string[];
  readonly loads: readonly WhatIfLoad[];
  readonly crew: { readonly people: number; readonly mats: number } | null;
  readonly thickness_m: number | null;
  readonly most_ice_kg_m3: number | null;
  readonly answer: WhatIfAnswer | null;
};

export type ReasonCode =
  | 'frozen_ground' | 'rain' | 'freezing' | 'crew_misses' | 'no_window' | 'hot_concrete'
  | 'evaporation' | 'heat_index' | 'dark' | 'cold_air' | 'cold_concrete';
export type Reason = { readonly code: ReasonCode; readonly stop: boolean; readonly numbers: Readonly<Record<string, number>>; readonly text: string };
export type Hour = {
  readonly start: string;
  readonly rank: number;
  readonly go: boolean;
  readonly chance_to_make: number;
  readonly work_until: string;
  readonly reasons: readonly Reason[];
};
export type Advice = {
  readonly problem: Trouble | null;
  readonly assumptions: readonly string[];
  readonly planned_at: string | null;
  readonly answer: { readonly decision: { readonly go: boolean; readonly start: string | null }; readonly hours: readonly Hour[] } | null;
};
