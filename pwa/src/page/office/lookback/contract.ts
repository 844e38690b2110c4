// What looking back reads from the server. Times of errors in minutes, amounts SI.

export type Named = { readonly job: string; readonly name: string; readonly day: string };
export type Counts = { readonly pours: number; readonly few: boolean };

/** `low_min`, `high_min`: of ten, one lies below and one above. */
export type Stat = Counts & {
  readonly values: number;
  readonly median_min: number | null;
  readonly low_min: number | null;
  readonly high_min: number | null;
  readonly inside: number;
  readonly in_time: number;
};
export type GroupStat = Stat & { readonly name: string };
export type ErrorPoint = Named & { readonly load: number; readonly error_min: number; readonly inside: boolean; readonly afterwards: boolean };
export type Measured = {
  readonly all: Stat;
  readonly by_mix: readonly GroupStat[];
  readonly by_plant: readonly GroupStat[];
  readonly by_month: readonly GroupStat[];
  readonly points: readonly ErrorPoint[];
};
export const MEASURES = ['texture_opens', 'texture_closes', 'saw_opens'] as const;
export type MeasureName = (typeof MEASURES)[number];

/** Slower than the book by so many percent; below zero faster. Doubt is one standard deviation. */
export type KnownPace = { readonly pours: number; readonly percent: number; readonly doubt_percent: number };
export type FactorPoint = Named & { readonly percent: number; readonly low_percent: number; readonly high_percent: number; readonly aside: boolean; readonly after: KnownPace | null };
export type MixHistory = { readonly mix: string; readonly plant: string; readonly known: KnownPace | null; readonly points: readonly FactorPoint[] };

export type PacePoint = Named & { readonly m2_per_person_hour: number; readonly lay_minutes: number | null; readonly lay_minutes_entered: number | null; readonly people: number };
export type PaceSeen = Counts & { readonly m2_per_person_hour: number | null; readonly lay_minutes: number | null; readonly lay_minutes_entered: number | null; readonly points: readonly PacePoint[] };

export type CalledBack = {
  readonly jobs: number;
  readonly few: boolean;
  readonly jobs_called_back: number;
  readonly total: number;
  readonly per_100: number | null;
  readonly by_what: readonly { readonly what: string; readonly count: number; readonly per_100: number }[];
};

export type WastePoint = Named & { readonly ordered_m3: number; readonly placed_m3: number; readonly slab_m3: number; readonly over_percent: number };
export type Waste = Counts & { readonly ordered_m3: number; readonly slab_m3: number; readonly over_percent: number | null; readonly points: readonly WastePoint[] };

export type LookedBack = {
  readonly choices: { readonly mixes: readonly string[]; readonly plants: readonly string[]; readonly months: readonly string[] };
  readonly jobs: number;
  readonly kept: Readonly<Record<MeasureName, Measured>>;
  readonly pace: PaceSeen;
  readonly set_factor: readonly MixHistory[];
  readonly callbacks: CalledBack;
  readonly waste: Waste;
};

/** What one closed job told of its mix, and what that moved. */
export type Taught = {
  readonly mix: string;
  readonly plant: string;
  readonly aside: string | null;
  readonly told: { readonly percent: number; readonly doubt_percent: number } | null;
  readonly before: KnownPace | null;
  readonly after: KnownPace | null;
  readonly book_doubt_percent: number;
};

export type Asked = { readonly mix: string; readonly plant: string; readonly month: string; readonly from: string; readonly to: string };
export const ANY: Asked = { mix: '', plant: '', month: '', from: '', to: '' };

/** The address for a choice; what is not chosen is left out. */
export function addressOf(asked: Asked): string {
  const chosen = new URLSearchParams(Object.entries(asked).filter(([, value]) => value !== ''));
  return chosen.size > 0 ? `/api/lookback?${chosen.toString()}` : '/api/lookback';
}
