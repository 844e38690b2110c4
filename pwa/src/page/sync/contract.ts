// What the server says, as the phone reads it. Times are ISO 8601 text; amounts are SI.
import type { DaysAhead, SawPlan } from './days';
import type { JobId } from '../../shared/events';
import type { Session, Trouble } from '../../shared/store/meta';

export type Role = 'crew' | 'foreman' | 'office';
export type IsoTime = string;
export type BothLanguages = { readonly en: string; readonly es: string };

export type { Trouble };

/** Who this phone is to the company; the token stays in the database. */
export type Me = Omit<Session, 'token'>;

/** A time that is not certain: one chance in ten before `early`, one in ten after `late`. */
export type When = { readonly early: IsoTime; readonly likely: IsoTime; readonly late: IsoTime };
export type TimeWindow = { readonly opens: When; readonly closes: When | null };
export type WindowName = 'edge' | 'mag' | 'texture' | 'saw' | 'wash' | 'colour' | 'seal';

export type CurvePoint = {
  readonly at: IsoTime;
  readonly surface_temp_c: number;
  readonly mean_temp_c: number;
  readonly equivalent_age_h: number;
  readonly penetration_mpa: number;
  readonly strength_mpa: number;
  readonly stress_ratio: number;
  readonly evaporation_kg_m2_h: number;
};

/** When the handbooks open and close the saw, when the surface has cooled, and who says so. */
export type SawPractice = { readonly opens: IsoTime; readonly closes: IsoTime; readonly surface_drop: IsoTime | null; readonly source: string };

export type LoadTimeline = {
  readonly id: string;
  readonly windows: Readonly<Partial<Record<WindowName, TimeWindow | null>>>;
  readonly curve: readonly CurvePoint[];
  /** Older servers don't say. */
  readonly saw_practice?: SawPractice | null;
};

export type Slot = { readonly from: IsoTime; readonly to: IsoTime; readonly reason: string };
export type Warning = {
  readonly code: string;
  readonly load: string | null;
  readonly from: IsoTime;
  readonly to: IsoTime;
  readonly text: string;
  /** What the words rest on, SI; older servers don't say. */
  readonly params?: Readonly<Record<string, number | string | readonly string[]>>;
};

/** The engine's answer. `pace` is null until the crew and the mats are known. */
export type Timeline = {
  readonly version: number;
  readonly loads: readonly LoadTimeline[];
  readonly pace: Readonly<Record<string, unknown>> | null;
  readonly slots: Readonly<Partial<Record<'wash' | 'colour' | 'seal', readonly Slot[]>>>;
  readonly warnings: readonly Warning[];
  readonly planned?: boolean;
  readonly days_ahead?: DaysAhead | null;
  readonly saw_plan?: SawPlan | null;
};

export type ReminderState = 'planned' | 'due' | 'sent' | 'acknowledged' | 'cancelled' | 'failed' | 'missed';

/** Work of the pour's own hours, load by load: the phone's own tones and screens speak of it too. */
export type HandWork = 'check' | 'texture';

export type Reminder = {
  readonly id: string;
  readonly job: JobId;
  readonly what: HandWork | 'saw' | 'wash' | 'colour' | 'seal';
  readonly subject: string;
  readonly stage: 'heads_up' | 'open' | 'last_call' | 'missed';
  readonly due: IsoTime;
  readonly opens: When;
  readonly closes: When | null;
  readonly expires: IsoTime;
  readonly state: ReminderState;
  readonly moved_from: IsoTime | null;
  /** `forecast` where a new forecast alone moved it; older servers don't say. */
  readonly moved_why?: 'forecast' | null;
  /** Its last move: what was said of it until then, taken or put off, counts no more. Older servers don't say. */
  readonly counts_from?: IsoTime | null;
  /** Put off until then; older servers don't say. */
  readonly snoozed_until?: IsoTime | null;
  readonly acknowledged: null | { readonly by: string; readonly at: IsoTime; readonly via: string };
  readonly title: BothLanguages;
  readonly words: BothLanguages;
};

export type OutlookWeather = {
  readonly source: 'forecast' | 'file' | 'hand' | 'none';
  readonly label: string;
  /** When the days were entered, the forecast was issued or the file was loaded. */
  readonly as_of?: IsoTime | null;
  readonly covers_from: IsoTime | null;
  readonly covers_to: IsoTime | null;
  readonly noted: number | boolean;
  /** The stored hours, packed for the engine on this phone. */
  readonly hours?: unknown;
  /** The hours as the crew feels them; older servers don't say. */
  readonly felt?: Felt | null;
};

/** A row of numbers for each quantity, hour by hour: air and heat index in the shade, minutes of work before a rest fills the hour. */
export type Felt = {
  readonly from: IsoTime;
  readonly air_temp_c: readonly number[];
  readonly feels_c: readonly number[];
  readonly moderate_min: readonly number[];
  readonly heavy_min: readonly number[];
};

/** What a job goes by for its mix before any check of its own: pours of its mix from its plant, of its mix, of any. */
export type Prior = {
  readonly mix: string;
  readonly plant: string;
  readonly level: 'plant' | 'mix' | 'company';
  readonly pours: number;
  readonly set_factor: number;
  readonly set_factor_sd: number;
};

/** What is known for the next pour of a mix from a plant; no plant: from any; no mix: of any. Of the logarithm. */
export type KnownMix = { readonly mix: string; readonly plant: string; readonly pours: number; readonly mean_log: number; readonly sd_log: number };

/** What was taken for granted, by its code and SI numbers; `text` is English. */
export type Assumed = { readonly code: string; readonly params: Readonly<Record<string, string | number>>; readonly text: string };

export type JobOutlook = {
  readonly computed_at: IsoTime;
  readonly weather: OutlookWeather;
  readonly problem: Trouble | null;
  readonly timeline: Timeline | null;
  readonly planned?: boolean;
  readonly assumptions?: readonly string[];
  readonly assumed?: readonly Assumed[];
  /** Worked out on this phone, not by the server. */
  readonly worked_here?: boolean;
  readonly prior?: Prior | null;
};

export type Outlook = {
  readonly version: number;
  readonly server_time: IsoTime;
  readonly epoch: string;
  readonly company: { readonly id: string; readonly name: string };
  readonly me: {
    readonly person: string;
    readonly name: string;
    readonly role: Role;
    readonly device: string;
    readonly language: string;
  };
  readonly people: readonly { readonly id: string; readonly name: string; readonly role: Role }[];
  readonly jobs: Readonly<Record<string, JobOutlook>>;
  /** The jobs it tells of, and how many open ones it does not; older servers tell of all. */
  readonly carried?: readonly string[];
  readonly left_out?: number;
  /** Older servers know nothing of mixes. */
  readonly mixes?: readonly KnownMix[];
  readonly reminders: readonly Reminder[];
};

export type BoardJob = {
  readonly job: JobId;
  readonly name: string;
  readonly place: string | null;
  readonly phase: string;
  readonly use: string;
  readonly pour_at: IsoTime | null;
  readonly volume_ordered_m3: number | null;
  readonly volume_placed_m3: number;
  readonly loads_placed: number;
  readonly loads_ordered: number | null;
  readonly next: null | {
    readonly reminder: string;
    readonly what: Reminder['what'];
    readonly stage: Reminder['stage'];
    readonly due: IsoTime;
    readonly closes: When | null;
    readonly slack_min: number | null;
    readonly state: ReminderState;
  };
  readonly last_ack: null | { readonly what: string; readonly stage: string; readonly by: string; readonly at: IsoTime; readonly via: string };
  readonly last_heard_at: IsoTime | null;
  readonly last_heard_from: string | null;
  readonly unsent: number;
  readonly oldest_unsent_at: IsoTime | null;
  readonly open_pins: number;
  readonly checklists: Readonly<Record<string, { readonly done: number; readonly total: number }>>;
  readonly problem: Trouble | null;
  readonly time_zone?: string | null;
  readonly weather_risk?: readonly { readonly code: string; readonly from: IsoTime; readonly to: IsoTime }[];
};

/** A page of the board. `total`: how many jobs fit what was asked; `counts`: how all open jobs stand. Older servers send all jobs. */
export type Board = {
  readonly version: number;
  readonly server_time: IsoTime;
  readonly jobs: readonly BoardJob[];
  readonly total?: number;
  readonly counts?: { readonly late: number; readonly watch: number; readonly steady: number };
  readonly conflicts?: Conflicts;
};

export type ConflictTurn = {
  readonly job: JobId;
  readonly name: string;
  readonly time_zone: string;
  readonly what: 'pour' | Exclude<Reminder['what'], 'check'>;
  readonly subject: string;
  readonly from: IsoTime;
  readonly to: IsoTime;
  readonly done_by: IsoTime;
  readonly late_min: number;
};

/** Work of several jobs that wants one crew, saw or sprayer at one time; `order` loses least. */
export type ConflictFound = {
  readonly kind: 'crew' | 'saw' | 'sprayer';
  readonly name: string | null;
  readonly order: readonly ConflictTurn[];
  readonly loss: number;
  readonly as_it_comes: readonly ConflictTurn[];
  readonly loss_as_it_comes: number;
};

/** What the order is weighed by: what an hour late counts for, by work, and minutes taken as given. */
export type RestsOn = {
  readonly weights: Readonly<Record<ConflictTurn['what'], number>>;
  readonly between_jobs_min: number;
  readonly after_last_load_min: number;
  readonly set_up_saw_min: number;
  readonly saw_without_length_min: number;
  readonly coating_min: number;
};

/** `rests_on`: null without a conflict; older servers don't say. */
export type Conflicts = { readonly found: readonly ConflictFound[]; readonly unnamed: readonly ConflictFound['kind'][]; readonly more?: number; readonly rests_on?: RestsOn | null };

/** What the engine is told of mixes, so that it begins where the server would; null from an older server. */
export function learnedOf(outlook: Outlook | null, job: string): { readonly prior: Prior | null; readonly mixes: readonly KnownMix[] } | null {
  return outlook?.mixes ? { prior: outlook.jobs[job]?.prior ?? null, mixes: outlook.mixes } : null;
}
