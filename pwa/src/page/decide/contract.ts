// What the engine says of pace, of what checks taught, of what-if and of the hour to pour. Amounts SI, times ISO 8601.
import type { Assumed, LoadTimeline, Timeline, TimeWindow, Trouble, When } from '../sync/contract';

export type Slack = { readonly early: number; readonly likely: number; readonly late: number };
export type LoadPace = {
  readonly id: string;
  readonly left_m2: number;
  readonly reached: When;
  readonly finished: When;
  readonly closes: When;
  readonly slack_minutes: Slack;
  readonly chance_to_miss: number;
  readonly tamper_from: string | null;
  readonly tamper_chance: number;
};
/** How far the crew has come; `behind_minutes` below zero is ahead of the plan. */
export type Where = {
  readonly begun: boolean;
  readonly load: string | null;
  readonly done_m2: number;
  readonly left_m2: number;
  readonly planned_m2: number;
  readonly behind_minutes: number;
  readonly speed: number;
  readonly timed_minutes: number;
};
/** How long release stays good on the load that comes next, and the area worked meanwhile. */
export type ReleaseLead = { readonly load: string; readonly lasts_minutes: number; readonly ahead_m2: number };
export type PaceCall = { readonly code: 'tamper' | 'add_hands' | 'hold_release'; readonly load: string; readonly at: string; readonly params: Readonly<Record<string, number>> };
export type PaceChange = {
  readonly change: 'start_earlier' | 'one_more_hand' | 'another_set_of_mats' | 'smaller_pour' | 'retarder_in_later_loads';
  readonly amount: number;
  readonly unit: string;
  readonly chance_to_miss_after: number;
  readonly slack_minutes_gained: number;
};
export type Pace = {
  readonly start: { readonly ready_at: string; readonly opens: When; readonly by: When | null };
  readonly where: Where;
  readonly loads: readonly LoadPace[];
  readonly chance_to_miss: number;
  readonly slack_minutes: Slack;
  readonly limiting: string;
  readonly release: ReleaseLead;
  readonly calls: readonly PaceCall[];
  readonly changes: readonly PaceChange[];
};

type Seen = { readonly load: string; readonly at: string; readonly kind: 'footprint' | 'thumb' | 'mat_clean' | 'mat_sticks' | 'mat_refused' };
export type LearnedChange = Seen & {
  readonly percent_faster: number;
  readonly texture_closes_was: string | null;
  readonly texture_closes_now: string | null;
};
export type Learned = { readonly from_checks: number; readonly changes: readonly LearnedChange[]; readonly contradictory: readonly Seen[] };

/** Outlooks kept from earlier versions don't know where the crew is; the race is not one without. */
export function paceOf(timeline: Timeline | null | undefined): Pace | null {
  const pace = timeline?.pace;
  return pace && 'where' in pace && 'loads' in pace ? (pace as unknown as Pace) : null;
}

export const learnedOf = (load: LoadTimeline): Learned | null => (load as { learned?: Learned }).learned ?? null;

export type WhatIfLoad = {
  readonly id: string;
  readonly number: number;
  readonly batched: boolean;
  readonly placed: boolean;
  readonly placed_from: string;
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
  readonly assumed?: readonly Assumed[];
  readonly loads: readonly WhatIfLoad[];
  readonly crew: { readonly people: number; readonly mats: number } | null;
  readonly thickness_m: number | null;
  readonly most_ice_kg_m3: number | null;
  readonly answer: WhatIfAnswer | null;
};

export type ReasonCode =
  | 'frozen_ground' | 'rain' | 'freezing' | 'crew_misses' | 'no_window' | 'hot_concrete'
  | 'evaporation' | 'heat_index' | 'dark' | 'saw_missed' | 'night_drop' | 'saw_at_night'
  | 'rain_to_set' | 'cold_air' | 'cold_concrete' | 'saw_in_dark';
export type Verdict = 'go' | 'tight' | 'no_go';
export type Reason = { readonly code: ReasonCode; readonly weight: 'stop' | 'tight' | 'note'; readonly numbers: Readonly<Record<string, number>>; readonly text: string };
export type Hour = {
  readonly start: string;
  readonly rank: number;
  readonly verdict: Verdict;
  readonly chance_to_make: number;
  readonly work_until: string;
  readonly saw: { readonly opens: string; readonly closes: string } | null;
  readonly surface_drop: string | null;
  readonly reasons: readonly Reason[];
};
export type Advice = {
  readonly problem: Trouble | null;
  readonly assumptions: readonly string[];
  readonly assumed?: readonly Assumed[];
  readonly planned_at: string | null;
  readonly answer: { readonly decision: { readonly verdict: Verdict; readonly start: string | null }; readonly hours: readonly Hour[] } | null;
};
