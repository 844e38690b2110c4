// Generated from server/slabtide/log/kinds by `slabtide kinds --typescript`. Do not edit: change the kinds.

/** An id that can't be passed where another sort of id is wanted. */
export type Brand<Name extends string> = string & { readonly __id: Name }
export type JobId = Brand<'JobId'>
export type EventId = Brand<'EventId'>
export type DeviceId = Brand<'DeviceId'>
export type PersonId = Brand<'PersonId'>
export type LoadId = Brand<'LoadId'>
export type BayId = Brand<'BayId'>
export type PinId = Brand<'PinId'>
export type CoverId = Brand<'CoverId'>
export type CutId = Brand<'CutId'>
export type PointId = Brand<'PointId'>
export type ReminderId = Brand<'ReminderId'>
export type PhotoId = Brand<'PhotoId'>

/** A moment, ISO 8601 with `Z` or an offset. */
export type Instant = string
/** A calendar day, YYYY-MM-DD. */
export type Day = string
/** A point on the plan, [x, y] in metres. */
export type Spot = readonly [number, number]

export interface JobOpened {
  readonly name: string
  readonly place?: string | null
  readonly latitude_deg: number
  readonly longitude_deg: number
  readonly time_zone: string
  readonly use: 'patio' | 'walk' | 'pool_deck' | 'drive' | 'other'
  readonly customer?: string | null
}

export interface CrewAssigned {
  readonly people: number
  readonly mats?: number | null
  readonly mat_area_m2?: number | null
  readonly lay_minutes?: number | null
  readonly saw_kind?: 'conventional' | 'early-entry' | null
  readonly saw_length_m?: number | null
  readonly saw_rate_m_per_min?: number | null
  readonly lead?: PersonId | null
  readonly crew_name?: string | null
  readonly saw_name?: string | null
  readonly sprayer_name?: string | null
}

export interface PlannedDay {
  readonly date: Day
  readonly low_c: number
  readonly high_c: number
  readonly rh: number
  readonly wind_kmh: number
  readonly cloud: number
}

export interface WeatherPlanned {
  readonly days: readonly PlannedDay[]
}

export interface WeatherNoted {
  readonly air_temp_c?: number | null
  readonly rh?: number | null
  readonly wind_kmh?: number | null
  readonly cloud?: number | null
  readonly raining?: boolean | null
  readonly note?: string | null
}

export interface PhotoTaken {
  readonly photo: PhotoId
  readonly caption?: string | null
  readonly pin?: PinId | null
  readonly bay?: BayId | null
}

export interface StageReached {
  readonly phase: 'layout' | 'ready' | 'pour' | 'texture' | 'next_days' | 'record'
}

export interface ReminderAcknowledged {
  readonly reminder: ReminderId
  readonly via: 'notification' | 'app' | 'board'
}

export interface ReminderSnoozed {
  readonly reminder: ReminderId
  readonly until: Instant
}

export interface NoteWritten {
  readonly text: string
}

export interface JobClosed {
  readonly outcome?: string | null
}

export interface AbuttingEdge {
  readonly edge: number
  readonly against: string
  readonly bonded?: boolean | null
}

export interface SlabOutlined {
  readonly corners: readonly Spot[]
  readonly thickness_m: number
  readonly insulation_r_m2k_w: number
  readonly ground_temp_c: number
  readonly solar_absorptivity: number
  readonly abutting: readonly AbuttingEdge[]
  readonly uncut_length_m?: number | null
  readonly shade?: number | null
  readonly base_friction?: number | null
}

export interface AdmixtureDose {
  readonly type: 'A' | 'B' | 'C' | 'D' | 'E' | 'F' | 'G' | 'S'
  readonly dose: number
}

export interface MixChosen {
  readonly name: string
  readonly cement_kg_m3: number
  readonly w_cm: number
  readonly design_strength_mpa: number
  readonly aggregate: 'soft-rounded' | 'rounded' | 'crushed-soft' | 'crushed-hard'
  readonly set_factor?: number | null
  readonly set_factor_sd?: number | null
  readonly colour?: string | null
  readonly note?: string | null
  readonly plant?: string | null
  readonly cement_type?: 'I/II' | 'III' | 'V' | 'IL' | null
  readonly fly_ash_fraction?: number | null
  readonly fly_ash_class?: 'F' | 'C' | null
  readonly slag_fraction?: number | null
  readonly silica_fume_fraction?: number | null
  readonly admixtures?: readonly AdmixtureDose[] | null
  readonly slump_allowance_mm?: number | null
  readonly drum_limit_min?: number | null
}

export interface OrderPlaced {
  readonly volume_m3: number
  readonly loads: number
  readonly supplier?: string | null
  readonly pour_at: Instant
  readonly slump_mm?: number | null
  readonly colour?: string | null
}

export interface BayDrawn {
  readonly bay: BayId
  readonly label: string
  readonly corners: readonly Spot[]
  readonly load?: LoadId | null
  readonly order: number
}

export interface LoadTicketed {
  readonly load: LoadId
  readonly number: number
  readonly ticket?: string | null
  readonly batched_at: Instant
  readonly volume_m3: number
  readonly slump_mm?: number | null
  readonly concrete_temp_c?: number | null
  readonly water_added_l?: number | null
  readonly colour_bags?: number | null
  readonly admixtures?: readonly AdmixtureDose[] | null
  readonly water_allowed_l?: number | null
  readonly plant?: string | null
}

export interface LoadPlaced {
  readonly load: LoadId
  readonly area_m2?: number | null
  readonly from: Instant
  readonly to: Instant
}

export interface BayWorked {
  readonly bay: BayId
  readonly step: 'strike_off' | 'bull_float' | 'edge' | 'mag' | 'release' | 'texture' | 'touch_up'
  readonly mark: 'start' | 'end'
  readonly note?: string | null
}

export interface CheckMade {
  readonly load: LoadId
  readonly bay?: BayId | null
  readonly kind: 'footprint' | 'thumb' | 'mat_clean' | 'mat_sticks' | 'mat_refused'
  readonly depth_mm?: number | null
  readonly spot?: Spot | null
}

export interface LoadMerged {
  readonly load: LoadId
  readonly into: LoadId
}

export interface CoverLaid {
  readonly cover: CoverId
  readonly cover_kind: 'blanket' | 'wet' | 'sheet'
  readonly r_m2k_w?: number | null
  readonly load?: LoadId | null
}

export interface CoverLifted {
  readonly cover: CoverId
}

export interface ItemTicked {
  readonly list: 'forms' | 'isolation' | 'slope' | 'debris' | 'release' | 'touch_up'
  readonly item: string
  readonly subject: string
  readonly done: boolean
  readonly note?: string | null
}

export interface FormMeasured {
  readonly point: PointId
  readonly label: string
  readonly spot: Spot
  readonly height_m?: number | null
  readonly depth_m?: number | null
  readonly firm?: boolean | null
}

export interface JointChecked {
  readonly edge: number
  readonly full_depth: boolean
  readonly continuous: boolean
  readonly depth_m?: number | null
  readonly note?: string | null
}

export interface LevelShot {
  readonly point: PointId
  readonly label: string
  readonly spot: Spot
  readonly reading_m: number
}

export interface ReleaseLaid {
  readonly bay: BayId
  readonly mass_kg?: number | null
  readonly what?: 'powder' | 'liquid' | null
  readonly product?: string | null
}

export interface PinDropped {
  readonly pin: PinId
  readonly spot: Spot
  readonly what: 'debris' | 'thin_texture' | 'ravelled_edge' | 'crack' | 'colour_patch' | 'splash' | 'other'
  readonly bay?: BayId | null
  readonly note?: string | null
  readonly photo?: PhotoId | null
}

export interface PinClosed {
  readonly pin: PinId
  readonly how?: string | null
}

export interface PinAssigned {
  readonly pin: PinId
  readonly person?: PersonId | null
}

export interface CutPlanned {
  readonly cut: CutId
  readonly order: number
  readonly load?: LoadId | null
  readonly from: Spot
  readonly to: Spot
}

export interface CutTested {
  readonly result: 'clean' | 'slight' | 'ravels'
  readonly saw: 'conventional' | 'early-entry'
  readonly load?: LoadId | null
  readonly bay?: BayId | null
  readonly spot?: Spot | null
}

export interface CutMade {
  readonly length_m: number
  readonly depth_m?: number | null
  readonly saw: 'conventional' | 'early-entry'
  readonly ravelled?: boolean | null
  readonly last?: boolean | null
  readonly cut?: CutId | null
  readonly from?: Spot | null
  readonly to?: Spot | null
}

export interface WashDone {
  readonly method?: string | null
  readonly contained: boolean
  readonly note?: string | null
}

export interface ColourApplied {
  readonly product?: string | null
  readonly area_m2?: number | null
  readonly note?: string | null
}

export interface CoatSealed {
  readonly coat: number
  readonly product?: string | null
  readonly volume_l?: number | null
  readonly area_m2?: number | null
}

export interface ProductChosen {
  readonly work: 'wash' | 'colour' | 'seal'
  readonly name?: string | null
  readonly low_c?: number | null
  readonly high_c?: number | null
  readonly over_dew_k?: number | null
  readonly dry_before_h?: number | null
  readonly dry_after_h?: number | null
  readonly wind_most_kmh?: number | null
  readonly least_age_h?: number | null
  readonly recoat_least_h?: number | null
  readonly recoat_most_h?: number | null
  readonly coats?: number | null
  readonly coverage_m2_per_l?: number | null
}

export interface SheetTested {
  readonly laid_at: Instant
  readonly dry: boolean
  readonly bay?: BayId | null
  readonly spot?: Spot | null
  readonly note?: string | null
}

export interface SlotKept {
  readonly work: 'wash' | 'colour' | 'seal'
  readonly coat: number
  readonly from: Instant
  readonly to: Instant
}

export interface CallbackNoted {
  readonly what: 'crack' | 'colour' | 'scaling' | 'ravelled' | 'white_sealer' | 'settled' | 'slippery' | 'other'
  readonly bay?: BayId | null
  readonly note?: string | null
}

export interface CareSet {
  readonly walk_h?: number | null
  readonly drive_h?: number | null
  readonly wash_days?: number | null
  readonly reseal_months?: number | null
}

export interface LearningSetAside {
  readonly why: string
}

export interface EventRetracted {
  readonly event: EventId
}

/** The body of each kind. */
export interface Bodies {
  'job.opened': JobOpened
  'crew.assigned': CrewAssigned
  'weather.planned': WeatherPlanned
  'weather.noted': WeatherNoted
  'photo.taken': PhotoTaken
  'stage.reached': StageReached
  'reminder.acknowledged': ReminderAcknowledged
  'reminder.snoozed': ReminderSnoozed
  'note.written': NoteWritten
  'job.closed': JobClosed
  'slab.outlined': SlabOutlined
  'mix.chosen': MixChosen
  'order.placed': OrderPlaced
  'bay.drawn': BayDrawn
  'load.ticketed': LoadTicketed
  'load.placed': LoadPlaced
  'bay.worked': BayWorked
  'check.made': CheckMade
  'load.merged': LoadMerged
  'cover.laid': CoverLaid
  'cover.lifted': CoverLifted
  'item.ticked': ItemTicked
  'form.measured': FormMeasured
  'joint.checked': JointChecked
  'level.shot': LevelShot
  'release.laid': ReleaseLaid
  'pin.dropped': PinDropped
  'pin.closed': PinClosed
  'pin.assigned': PinAssigned
  'cut.planned': CutPlanned
  'cut.tested': CutTested
  'cut.made': CutMade
  'wash.done': WashDone
  'colour.applied': ColourApplied
  'coat.sealed': CoatSealed
  'product.chosen': ProductChosen
  'sheet.tested': SheetTested
  'slot.kept': SlotKept
  'callback.noted': CallbackNoted
  'care.set': CareSet
  'learning.set_aside': LearningSetAside
  'event.retracted': EventRetracted
}

export type Kind = keyof Bodies
export type Role = 'crew' | 'foreman' | 'office'
/** How a kind folds: set a key (`{name}` is a field of the body), add to a collection, or hide an event. */
export type Rule = { readonly set: string } | { readonly add: string } | { readonly retract: string }

export const RULES: { readonly [K in Kind]: Rule } = {
  'job.opened': { set: 'job' },
  'crew.assigned': { set: 'crew' },
  'weather.planned': { set: 'weather' },
  'weather.noted': { add: 'weather_notes' },
  'photo.taken': { add: 'photos' },
  'stage.reached': { set: 'stage' },
  'reminder.acknowledged': { set: 'acks/{reminder}' },
  'reminder.snoozed': { set: 'snoozes/{reminder}' },
  'note.written': { add: 'notes' },
  'job.closed': { set: 'closed' },
  'slab.outlined': { set: 'slab' },
  'mix.chosen': { set: 'mix' },
  'order.placed': { set: 'order' },
  'bay.drawn': { set: 'bays/{bay}' },
  'load.ticketed': { set: 'loads/{load}/ticket' },
  'load.placed': { set: 'loads/{load}/placed' },
  'bay.worked': { set: 'bays/{bay}/{step}/{mark}' },
  'check.made': { add: 'checks' },
  'load.merged': { set: 'merges/{load}' },
  'cover.laid': { set: 'covers/{cover}/laid' },
  'cover.lifted': { set: 'covers/{cover}/lifted' },
  'item.ticked': { set: 'ticks/{list}/{item}/{subject}' },
  'form.measured': { set: 'forms/{point}' },
  'joint.checked': { set: 'joints/{edge}' },
  'level.shot': { set: 'levels/{point}' },
  'release.laid': { set: 'release/{bay}' },
  'pin.dropped': { set: 'pins/{pin}/dropped' },
  'pin.closed': { set: 'pins/{pin}/closed' },
  'pin.assigned': { set: 'pins/{pin}/owner' },
  'cut.planned': { set: 'planned_cuts/{cut}' },
  'cut.tested': { add: 'test_cuts' },
  'cut.made': { add: 'cuts' },
  'wash.done': { add: 'washes' },
  'colour.applied': { add: 'colours' },
  'coat.sealed': { add: 'coats' },
  'product.chosen': { set: 'products/{work}' },
  'sheet.tested': { add: 'sheet_tests' },
  'slot.kept': { set: 'slots/{work}/{coat}' },
  'callback.noted': { add: 'callbacks' },
  'care.set': { set: 'care' },
  'learning.set_aside': { set: 'aside' },
  'event.retracted': { retract: 'event' },
}

/** Who may write each kind. Crew retract their own events only. */
export const ROLES: { readonly [K in Kind]: readonly Role[] } = {
  'job.opened': ['foreman', 'office'],
  'crew.assigned': ['foreman', 'office'],
  'weather.planned': ['foreman', 'office'],
  'weather.noted': ['crew', 'foreman'],
  'photo.taken': ['crew', 'foreman', 'office'],
  'stage.reached': ['crew', 'foreman'],
  'reminder.acknowledged': ['crew', 'foreman', 'office'],
  'reminder.snoozed': ['crew', 'foreman', 'office'],
  'note.written': ['crew', 'foreman', 'office'],
  'job.closed': ['foreman', 'office'],
  'slab.outlined': ['foreman'],
  'mix.chosen': ['foreman'],
  'order.placed': ['foreman', 'office'],
  'bay.drawn': ['crew', 'foreman'],
  'load.ticketed': ['crew', 'foreman'],
  'load.placed': ['crew', 'foreman'],
  'bay.worked': ['crew', 'foreman'],
  'check.made': ['crew', 'foreman'],
  'load.merged': ['crew', 'foreman'],
  'cover.laid': ['crew', 'foreman'],
  'cover.lifted': ['crew', 'foreman'],
  'item.ticked': ['crew', 'foreman'],
  'form.measured': ['crew', 'foreman'],
  'joint.checked': ['crew', 'foreman'],
  'level.shot': ['crew', 'foreman'],
  'release.laid': ['crew', 'foreman'],
  'pin.dropped': ['crew', 'foreman'],
  'pin.closed': ['crew', 'foreman'],
  'pin.assigned': ['crew', 'foreman'],
  'cut.planned': ['crew', 'foreman'],
  'cut.tested': ['crew', 'foreman'],
  'cut.made': ['crew', 'foreman'],
  'wash.done': ['crew', 'foreman'],
  'colour.applied': ['crew', 'foreman'],
  'coat.sealed': ['crew', 'foreman'],
  'product.chosen': ['foreman', 'office'],
  'sheet.tested': ['crew', 'foreman'],
  'slot.kept': ['foreman', 'office'],
  'callback.noted': ['foreman', 'office'],
  'care.set': ['foreman', 'office'],
  'learning.set_aside': ['foreman', 'office'],
  'event.retracted': ['crew', 'foreman', 'office'],
}

/** Every field of each body. */
export const FIELDS: { readonly [K in Kind]: readonly (keyof Bodies[K] & string)[] } = {
  'job.opened': ['name', 'place', 'latitude_deg', 'longitude_deg', 'time_zone', 'use', 'customer'],
  'crew.assigned': ['people', 'mats', 'mat_area_m2', 'lay_minutes', 'saw_kind', 'saw_length_m', 'saw_rate_m_per_min', 'lead', 'crew_name', 'saw_name', 'sprayer_name'],
  'weather.planned': ['days'],
  'weather.noted': ['air_temp_c', 'rh', 'wind_kmh', 'cloud', 'raining', 'note'],
  'photo.taken': ['photo', 'caption', 'pin', 'bay'],
  'stage.reached': ['phase'],
  'reminder.acknowledged': ['reminder', 'via'],
  'reminder.snoozed': ['reminder', 'until'],
  'note.written': ['text'],
  'job.closed': ['outcome'],
  'slab.outlined': ['corners', 'thickness_m', 'insulation_r_m2k_w', 'ground_temp_c', 'solar_absorptivity', 'abutting', 'uncut_length_m', 'shade', 'base_friction'],
  'mix.chosen': ['name', 'cement_kg_m3', 'w_cm', 'design_strength_mpa', 'aggregate', 'set_factor', 'set_factor_sd', 'colour', 'note', 'plant', 'cement_type', 'fly_ash_fraction', 'fly_ash_class', 'slag_fraction', 'silica_fume_fraction', 'admixtures', 'slump_allowance_mm', 'drum_limit_min'],
  'order.placed': ['volume_m3', 'loads', 'supplier', 'pour_at', 'slump_mm', 'colour'],
  'bay.drawn': ['bay', 'label', 'corners', 'load', 'order'],
  'load.ticketed': ['load', 'number', 'ticket', 'batched_at', 'volume_m3', 'slump_mm', 'concrete_temp_c', 'water_added_l', 'colour_bags', 'admixtures', 'water_allowed_l', 'plant'],
  'load.placed': ['load', 'area_m2', 'from', 'to'],
  'bay.worked': ['bay', 'step', 'mark', 'note'],
  'check.made': ['load', 'bay', 'kind', 'depth_mm', 'spot'],
  'load.merged': ['load', 'into'],
  'cover.laid': ['cover', 'cover_kind', 'r_m2k_w', 'load'],
  'cover.lifted': ['cover'],
  'item.ticked': ['list', 'item', 'subject', 'done', 'note'],
  'form.measured': ['point', 'label', 'spot', 'height_m', 'depth_m', 'firm'],
  'joint.checked': ['edge', 'full_depth', 'continuous', 'depth_m', 'note'],
  'level.shot': ['point', 'label', 'spot', 'reading_m'],
  'release.laid': ['bay', 'mass_kg', 'what', 'product'],
  'pin.dropped': ['pin', 'spot', 'what', 'bay', 'note', 'photo'],
  'pin.closed': ['pin', 'how'],
  'pin.assigned': ['pin', 'person'],
  'cut.planned': ['cut', 'order', 'load', 'from', 'to'],
  'cut.tested': ['result', 'saw', 'load', 'bay', 'spot'],
  'cut.made': ['length_m', 'depth_m', 'saw', 'ravelled', 'last', 'cut', 'from', 'to'],
  'wash.done': ['method', 'contained', 'note'],
  'colour.applied': ['product', 'area_m2', 'note'],
  'coat.sealed': ['coat', 'product', 'volume_l', 'area_m2'],
  'product.chosen': ['work', 'name', 'low_c', 'high_c', 'over_dew_k', 'dry_before_h', 'dry_after_h', 'wind_most_kmh', 'least_age_h', 'recoat_least_h', 'recoat_most_h', 'coats', 'coverage_m2_per_l'],
  'sheet.tested': ['laid_at', 'dry', 'bay', 'spot', 'note'],
  'slot.kept': ['work', 'coat', 'from', 'to'],
  'callback.noted': ['what', 'bay', 'note'],
  'care.set': ['walk_h', 'drive_h', 'wash_days', 'reseal_months'],
  'learning.set_aside': ['why'],
  'event.retracted': ['event'],
}

/** What each field accepts, for forms; SI. Rows of a list stand under their type's name. */
export const LIMITS = {
  'job.opened': {
    name: { maxLength: 80 },
    place: { maxLength: 200 },
    latitude_deg: { min: -90, max: 90, unit: '°' },
    longitude_deg: { min: -180, max: 180, unit: '°' },
    use: { options: ['patio', 'walk', 'pool_deck', 'drive', 'other'] },
    customer: { maxLength: 120 },
  },
  'crew.assigned': {
    people: { min: 1, max: 20, whole: true },
    mats: { min: 0, max: 60, whole: true },
    mat_area_m2: { min: 0.02, max: 5, unit: 'm²' },
    lay_minutes: { min: 0.1, max: 60, unit: 'min' },
    saw_kind: { options: ['conventional', 'early-entry'] },
    saw_length_m: { min: 0, max: 5000, unit: 'm' },
    saw_rate_m_per_min: { min: 0.02, max: 30, unit: 'm/min' },
    crew_name: { maxLength: 40 },
    saw_name: { maxLength: 40 },
    sprayer_name: { maxLength: 40 },
  },
  'weather.planned': {
    days: { minItems: 1, maxItems: 14 },
  },
  'PlannedDay': {
    low_c: { min: -40, max: 60, unit: '°C' },
    high_c: { min: -40, max: 60, unit: '°C' },
    rh: { min: 0, max: 1, unit: '' },
    wind_kmh: { min: 0, max: 200, unit: 'km/h' },
    cloud: { min: 0, max: 1, unit: '' },
  },
  'weather.noted': {
    air_temp_c: { min: -40, max: 60, unit: '°C' },
    rh: { min: 0, max: 1, unit: '' },
    wind_kmh: { min: 0, max: 200, unit: 'km/h' },
    cloud: { min: 0, max: 1, unit: '' },
    note: { maxLength: 500 },
  },
  'photo.taken': {
    caption: { maxLength: 500 },
  },
  'stage.reached': {
    phase: { options: ['layout', 'ready', 'pour', 'texture', 'next_days', 'record'] },
  },
  'reminder.acknowledged': {
    via: { options: ['notification', 'app', 'board'] },
  },
  'note.written': {
    text: { maxLength: 2000 },
  },
  'job.closed': {
    outcome: { maxLength: 2000 },
  },
  'slab.outlined': {
    corners: { minItems: 3, maxItems: 120 },
    thickness_m: { min: 0.05, max: 0.6, unit: 'm' },
    insulation_r_m2k_w: { min: 0, max: 6, unit: 'm²K/W' },
    ground_temp_c: { min: -10, max: 40, unit: '°C' },
    solar_absorptivity: { min: 0.2, max: 0.98, unit: '' },
    abutting: { minItems: 0, maxItems: 120 },
    uncut_length_m: { min: 0, max: 200, unit: 'm' },
    shade: { min: 0, max: 1, unit: '' },
    base_friction: { min: 0.1, max: 5, unit: '' },
  },
  'AbuttingEdge': {
    edge: { min: 0, max: 119, whole: true },
    against: { maxLength: 80 },
  },
  'mix.chosen': {
    name: { maxLength: 80 },
    cement_kg_m3: { min: 200, max: 600, unit: 'kg/m³' },
    w_cm: { min: 0.3, max: 0.7, unit: '' },
    design_strength_mpa: { min: 15, max: 60, unit: 'MPa' },
    aggregate: { options: ['soft-rounded', 'rounded', 'crushed-soft', 'crushed-hard'] },
    set_factor: { min: 0.4, max: 2.5, unit: '' },
    set_factor_sd: { min: 0.01, max: 1, unit: '' },
    colour: { maxLength: 80 },
    note: { maxLength: 500 },
    plant: { maxLength: 80 },
    cement_type: { options: ['I/II', 'III', 'V', 'IL'] },
    fly_ash_fraction: { min: 0, max: 0.6, unit: '' },
    fly_ash_class: { options: ['F', 'C'] },
    slag_fraction: { min: 0, max: 0.7, unit: '' },
    silica_fume_fraction: { min: 0, max: 0.15, unit: '' },
    admixtures: { minItems: 0, maxItems: 8 },
    slump_allowance_mm: { min: 0, max: 150, unit: 'mm' },
    drum_limit_min: { min: 20, max: 240, unit: 'min' },
  },
  'AdmixtureDose': {
    type: { options: ['A', 'B', 'C', 'D', 'E', 'F', 'G', 'S'] },
    dose: { min: 0, max: 2, unit: '' },
  },
  'order.placed': {
    volume_m3: { min: 0.1, max: 500, unit: 'm³' },
    loads: { min: 1, max: 40, whole: true },
    supplier: { maxLength: 120 },
    slump_mm: { min: 0, max: 300, unit: 'mm' },
    colour: { maxLength: 80 },
  },
  'bay.drawn': {
    label: { maxLength: 24 },
    corners: { minItems: 3, maxItems: 120 },
    order: { min: 0, max: 1000, whole: true },
  },
  'load.ticketed': {
    number: { min: 1, max: 40, whole: true },
    ticket: { maxLength: 40 },
    volume_m3: { min: 0.1, max: 15, unit: 'm³' },
    slump_mm: { min: 0, max: 300, unit: 'mm' },
    concrete_temp_c: { min: 2, max: 45, unit: '°C' },
    water_added_l: { min: 0, max: 400, unit: 'l' },
    colour_bags: { min: 0, max: 200, unit: 'bags' },
    admixtures: { minItems: 0, maxItems: 8 },
    water_allowed_l: { min: 0, max: 400, unit: 'l' },
    plant: { maxLength: 80 },
  },
  'load.placed': {
    area_m2: { min: 0.1, max: 5000, unit: 'm²' },
  },
  'bay.worked': {
    step: { options: ['strike_off', 'bull_float', 'edge', 'mag', 'release', 'texture', 'touch_up'] },
    mark: { options: ['start', 'end'] },
    note: { maxLength: 500 },
  },
  'check.made': {
    kind: { options: ['footprint', 'thumb', 'mat_clean', 'mat_sticks', 'mat_refused'] },
    depth_mm: { min: 0, max: 60, unit: 'mm' },
  },
  'cover.laid': {
    cover_kind: { options: ['blanket', 'wet', 'sheet'] },
    r_m2k_w: { min: 0, max: 5, unit: 'm²K/W' },
  },
  'item.ticked': {
    list: { options: ['forms', 'isolation', 'slope', 'debris', 'release', 'touch_up'] },
    note: { maxLength: 500 },
  },
  'form.measured': {
    label: { maxLength: 24 },
    height_m: { min: -10, max: 10, unit: 'm' },
    depth_m: { min: 0, max: 2, unit: 'm' },
  },
  'joint.checked': {
    edge: { min: 0, max: 119, whole: true },
    depth_m: { min: 0, max: 2, unit: 'm' },
    note: { maxLength: 500 },
  },
  'level.shot': {
    label: { maxLength: 24 },
    reading_m: { min: -10, max: 10, unit: 'm' },
  },
  'release.laid': {
    mass_kg: { min: 0, max: 1000, unit: 'kg' },
    what: { options: ['powder', 'liquid'] },
    product: { maxLength: 120 },
  },
  'pin.dropped': {
    what: { options: ['debris', 'thin_texture', 'ravelled_edge', 'crack', 'colour_patch', 'splash', 'other'] },
    note: { maxLength: 500 },
  },
  'pin.closed': {
    how: { maxLength: 500 },
  },
  'cut.planned': {
    order: { min: 0, max: 1000, whole: true },
  },
  'cut.tested': {
    result: { options: ['clean', 'slight', 'ravels'] },
    saw: { options: ['conventional', 'early-entry'] },
  },
  'cut.made': {
    length_m: { min: 0, max: 1000, unit: 'm' },
    depth_m: { min: 0, max: 0.6, unit: 'm' },
    saw: { options: ['conventional', 'early-entry'] },
  },
  'wash.done': {
    method: { maxLength: 120 },
    note: { maxLength: 500 },
  },
  'colour.applied': {
    product: { maxLength: 120 },
    area_m2: { min: 0, max: 5000, unit: 'm²' },
    note: { maxLength: 500 },
  },
  'coat.sealed': {
    coat: { min: 1, max: 4, whole: true },
    product: { maxLength: 120 },
    volume_l: { min: 0, max: 2000, unit: 'l' },
    area_m2: { min: 0, max: 5000, unit: 'm²' },
  },
  'product.chosen': {
    work: { options: ['wash', 'colour', 'seal'] },
    name: { maxLength: 80 },
    low_c: { min: -10, max: 60, unit: '°C' },
    high_c: { min: -10, max: 60, unit: '°C' },
    over_dew_k: { min: 0, max: 15, unit: 'K' },
    dry_before_h: { min: 0, max: 96, unit: 'h' },
    dry_after_h: { min: 0, max: 96, unit: 'h' },
    wind_most_kmh: { min: 0, max: 80, unit: 'km/h' },
    least_age_h: { min: 0, max: 2000, unit: 'h' },
    recoat_least_h: { min: 0, max: 240, unit: 'h' },
    recoat_most_h: { min: 0, max: 720, unit: 'h' },
    coats: { min: 1, max: 4, whole: true },
    coverage_m2_per_l: { min: 0.5, max: 30, unit: 'm²/l' },
  },
  'sheet.tested': {
    note: { maxLength: 500 },
  },
  'slot.kept': {
    work: { options: ['wash', 'colour', 'seal'] },
    coat: { min: 1, max: 4, whole: true },
  },
  'callback.noted': {
    what: { options: ['crack', 'colour', 'scaling', 'ravelled', 'white_sealer', 'settled', 'slippery', 'other'] },
    note: { maxLength: 500 },
  },
  'care.set': {
    walk_h: { min: 0, max: 720, unit: 'h' },
    drive_h: { min: 0, max: 2160, unit: 'h' },
    wash_days: { min: 0, max: 90, unit: 'days' },
    reseal_months: { min: 1, max: 120, unit: 'months' },
  },
  'learning.set_aside': {
    why: { maxLength: 200 },
  },
} as const
