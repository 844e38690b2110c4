/**
 * The typed reading of a job. SI, times as ISO text, null for what is not known. Every leaf keeps the event it came
 * from (undo goes by it), when that happened and who wrote it.
 */
import type {
  AbuttingEdge,
  AdmixtureDose,
  BayDrawn,
  BayId,
  BayWorked,
  CallbackNoted,
  CareSet,
  CheckMade,
  CoatSealed,
  ColourApplied,
  CoverId,
  CoverLaid,
  CrewAssigned,
  CutId,
  CutMade,
  CutPlanned,
  CutTested,
  EventId,
  FormMeasured,
  Instant,
  ItemTicked,
  JobClosed,
  JobId,
  JobOpened,
  JointChecked,
  LearningSetAside,
  LevelShot,
  LoadId,
  LoadMerged,
  LoadPlaced,
  LoadTicketed,
  MixChosen,
  NoteWritten,
  OrderPlaced,
  PersonId,
  PhotoTaken,
  PinClosed as PinClosedBody,
  PinDropped,
  PinId,
  PlannedDay,
  PointId,
  ProductChosen,
  ReleaseLaid,
  ReminderAcknowledged,
  ReminderSnoozed,
  ReminderId,
  SheetTested,
  SlabOutlined,
  SlotKept,
  StageReached,
  WashDone,
  WeatherNoted,
} from './events'

export type Phase = StageReached['phase']
export type StepName = BayWorked['step']
export type MarkName = BayWorked['mark']
export type ListName = ItemTicked['list']
export type Use = JobOpened['use']
export type PinWhat = PinDropped['what']
export type CheckKind = CheckMade['kind']
export type CoverKind = CoverLaid['cover_kind']
export type Work = ProductChosen['work']
export type { AbuttingEdge, AdmixtureDose }

export interface Leaf {
  readonly event: EventId
  readonly at: Instant
  readonly author: PersonId
}

/** A body with null where an optional field was left out. */
export type Full<Body> = { readonly [Name in keyof Body]-?: Exclude<Body[Name], undefined> }

export interface Opened extends Leaf, Full<JobOpened> {}
export interface Slab extends Leaf, Full<Omit<SlabOutlined, 'abutting'>> {
  readonly abutting: readonly Full<AbuttingEdge>[]
  readonly area_m2: number
  readonly perimeter_m: number
  readonly volume_m3: number
  /** Length of the sides cast bonded, over the perimeter. */
  readonly bonded_share: number
  /** Corners that turn inwards. */
  readonly reentrant_corners: number
}
export interface Mix extends Leaf, Full<MixChosen> {}
export interface Order extends Leaf, Full<OrderPlaced> {}
export interface Crew extends Leaf, Full<CrewAssigned> {}

/** A step's start or end; the moment is `at`. */
export interface Mark extends Leaf {
  readonly note: string | null
}
export interface Step {
  readonly start: Mark | null
  readonly end: Mark | null
}
export interface Release extends Leaf, Full<Omit<ReleaseLaid, 'bay'>> {}
export interface Bay extends Leaf, Full<Omit<BayDrawn, 'bay'>> {
  readonly id: BayId
  readonly area_m2: number
  /** The steps begun, by name. */
  readonly steps: Readonly<Partial<Record<StepName, Step>>>
  readonly release: Release | null
  /** When release was laid, else when the release step ended. */
  readonly release_at: Instant | null
}
export interface Placed extends Leaf, Full<Omit<LoadPlaced, 'load'>> {}
export interface Load extends Leaf, Full<Omit<LoadTicketed, 'load'>> {
  readonly id: LoadId
  readonly placed: Placed | null
  /** Sum of its bays, else as placed, else volume over thickness. */
  readonly area_m2: number | null
}
/** A placement whose load has no ticket (yet, or taken back). */
export interface Unticketed {
  readonly id: LoadId
  readonly placed: Placed
}
/** A load written down twice: `load` went into `into`, the load kept at the end of the chain. */
export interface Merged extends Leaf, Full<LoadMerged> {}
/** What was laid, over one load or over all; it lies until it is lifted. */
export interface Cover {
  readonly id: CoverId
  readonly kind: CoverKind
  readonly r_m2k_w: number | null
  readonly load: LoadId | null
  readonly laid: Leaf
  readonly lifted: Leaf | null
}
export interface Check extends Leaf, Full<CheckMade> {}
export interface WeatherDay extends Leaf, Full<PlannedDay> {}
export interface WeatherNote extends Leaf, Full<WeatherNoted> {}
export interface Tick extends Leaf {
  readonly done: boolean
  readonly note: string | null
  readonly by: PersonId
}
/** Top of form against the string line, and depth from it to the base. */
export interface FormPoint extends Leaf, Full<Omit<FormMeasured, 'point'>> {
  readonly id: PointId
}
export interface Joint extends Leaf, Full<JointChecked> {}
/** A rod reading; larger means lower. */
export interface Level extends Leaf, Full<Omit<LevelShot, 'point'>> {
  readonly id: PointId
}
export interface PinClosed extends Leaf, Full<Omit<PinClosedBody, 'pin'>> {}
/** Whose a pin is to deal with. */
export interface PinOwner extends Leaf {
  readonly person: PersonId
}
export interface Pin extends Leaf, Full<Omit<PinDropped, 'pin'>> {
  readonly id: PinId
  readonly open: boolean
  readonly closed: PinClosed | null
  readonly owner: PinOwner | null
}
export interface Photo extends Leaf, Full<PhotoTaken> {}
export interface Cut extends Leaf, Full<CutMade> {}
export interface PlannedCut extends Leaf, Full<Omit<CutPlanned, 'cut'>> {
  readonly id: CutId
  readonly length_m: number
  /** The first cut that ticks it. */
  readonly made: Cut | null
}
/** A short cut to see whether the joint ravels. */
export interface TestCut extends Leaf, Full<CutTested> {}
/** What goes on and what its maker asks for. */
export interface Product extends Leaf, Full<ProductChosen> {}
/** A sheet taped down to see whether moisture comes up; it was lifted `at`. */
export interface SheetTest extends Leaf, Full<SheetTested> {}
/** The time the lead keeps for a work. */
export interface KeptSlot extends Leaf, Full<SlotKept> {}
export interface Wash extends Leaf, Full<WashDone> {}
export interface Colour extends Leaf, Full<ColourApplied> {}
export interface Coat extends Leaf, Full<CoatSealed> {}
export interface Ack extends Leaf, Full<Omit<ReminderAcknowledged, 'reminder'>> {
  readonly by: PersonId
}
export interface Snooze extends Leaf, Full<Omit<ReminderSnoozed, 'reminder'>> {
  readonly by: PersonId
}
export interface Note extends Leaf, Full<NoteWritten> {}
export interface Closed extends Leaf, Full<JobClosed> {}
export interface Callback extends Leaf, Full<CallbackNoted> {}
export interface Care extends Leaf, Full<CareSet> {}
export interface Aside extends Leaf, Full<LearningSetAside> {}

export interface JobView {
  readonly id: JobId
  /** Empty until the job is opened. */
  readonly name: string
  readonly opened: Opened | null
  readonly slab: Slab | null
  readonly mix: Mix | null
  readonly order: Order | null
  readonly crew: Crew | null
  /** By order of work. */
  readonly bays: readonly Bay[]
  /** By number. */
  readonly loads: readonly Load[]
  readonly unticketed: readonly Unticketed[]
  readonly merged: readonly Merged[]
  readonly covers: readonly Cover[]
  readonly checks: readonly Check[]
  readonly weather_days: readonly WeatherDay[]
  readonly weather_notes: readonly WeatherNote[]
  /** By `list/item/subject`; `tickKey` writes it. */
  readonly ticks: Readonly<Record<string, Tick>>
  readonly forms: readonly FormPoint[]
  readonly joints: readonly Joint[]
  readonly levels: readonly Level[]
  readonly pins: readonly Pin[]
  readonly photos: readonly Photo[]
  /** By order. */
  readonly planned_cuts: readonly PlannedCut[]
  readonly test_cuts: readonly TestCut[]
  readonly cuts: readonly Cut[]
  readonly cut_length_m: number
  readonly cuts_done: boolean
  readonly products: Readonly<Partial<Record<Work, Product>>>
  readonly sheet_tests: readonly SheetTest[]
  /** By work and coat. */
  readonly kept_slots: readonly KeptSlot[]
  readonly washes: readonly Wash[]
  readonly colours: readonly Colour[]
  readonly coats: readonly Coat[]
  readonly acks: Readonly<Record<ReminderId, Ack>>
  readonly snoozes: Readonly<Record<ReminderId, Snooze>>
  readonly notes: readonly Note[]
  readonly closed: Closed | null
  readonly callbacks: readonly Callback[]
  readonly care: Care | null
  /** Why the company does not learn from this pour. */
  readonly aside: Aside | null
  readonly phase: Phase
}
