/** One line of words for each kind of entry. Reads the languages and the units of the person; no DOM. */
import type { Event } from '../../../shared/event'
import type { Bodies, Kind } from '../../../shared/events'
import type { JobView } from '../../../shared/job'
import { formatLength } from '../../../shared/units'
import { units } from '../../shell/preferences'
import { t, type WordKey } from '../../words'
import { say, sayShort, type Quantity } from '../quantity'
import { dayTimeOf, nameOf, timeOf } from '../who'

type Describe = { readonly [K in Kind]: (body: Bodies[K], job: JobView) => string }

const some = (...parts: readonly (string | null | undefined | false)[]): string => parts.filter(Boolean).join(', ')
const amount = (value: number | null | undefined, quantity: Quantity): string | null => (value == null ? null : say(value, quantity, units.value))
const long = (value: number | null | undefined): string | null => (value == null ? null : formatLength(value, units.value))
const short = (value: number | null | undefined): string | null => (value == null ? null : sayShort(value, units.value))
const bayOf = (job: JobView, bay: string | null | undefined): string => {
  const found = job.bays.find((one) => one.id === bay)
  return found ? t('layout.bay', { label: found.label }) : bay ? t('record.goneBay') : ''
}
const loadOf = (job: JobView, load: string): string => {
  const found = job.loads.find((one) => one.id === load)
  return found ? t('layout.load', { number: found.number }) : t('record.goneLoad')
}

const WORDS: Describe = {
  'job.opened': (body) => t('record.job_opened', { name: body.name }),
  'slab.outlined': (body) => t('record.slab_outlined', { corners: body.corners.length, thickness: amount(body.thickness_m, 'thickness') ?? '' }),
  'mix.chosen': (body) => t('record.mix_chosen', { mix: some(body.name, body.colour) }),
  'order.placed': (body, job) => t('record.order_placed', { volume: amount(body.volume_m3, 'volume') ?? '', loads: body.loads, at: dayTimeOf(job, body.pour_at) }),
  'crew.assigned': (body) => t('record.crew_assigned', { people: body.people, mats: body.mats ?? 0 }),
  'bay.drawn': (body) => t('record.bay_drawn', { label: body.label }),
  'load.ticketed': (body, job) => t('record.load_ticketed', { number: body.number, details: some(amount(body.volume_m3, 'volume'), t('pour.batchedAt', { time: timeOf(job, body.batched_at) }), amount(body.concrete_temp_c, 'temp'), body.slump_mm == null ? null : t('pour.slumpOf', { slump: amount(body.slump_mm, 'slump') ?? '' }), body.water_added_l ? t('pour.waterOf', { water: amount(body.water_added_l, 'water') ?? '' }) : null) }),
  'load.placed': (body, job) => (body.from === body.to ? t('record.load_placing', { load: loadOf(job, body.load), from: timeOf(job, body.from) }) : t('record.load_placed', { load: loadOf(job, body.load), from: timeOf(job, body.from), to: timeOf(job, body.to) })),
  'bay.worked': (body, job) => t(body.mark === 'start' ? 'record.bay_started' : 'record.bay_ended', { bay: bayOf(job, body.bay), step: t(`pour.step.${body.step}`) }),
  'check.made': (body, job) => t('record.check_made', { where: body.bay ? bayOf(job, body.bay) : loadOf(job, body.load), what: some(t(`texture.kind.${body.kind}`), short(body.depth_mm == null ? null : body.depth_mm / 1000)) }),
  'weather.planned': (body) => t('record.weather_planned', { days: body.days.length }),
  'weather.noted': (body) => t('record.weather_noted', { what: some(amount(body.air_temp_c, 'temp'), amount(body.rh, 'share'), amount(body.wind_kmh, 'speed'), body.raining && t('pour.raining'), body.note) }),
  'item.ticked': (body, job) => t(body.done ? 'record.item_ticked' : 'record.item_unticked', { item: some(bayOf(job, isId(body.subject) ? body.subject : ''), t(`ready.item.${body.list}.${body.item}` as WordKey)) }),
  'form.measured': (body) => t('record.form_measured', { label: body.label, what: some(body.height_m != null && t('ready.form.heightOf', { height: short(body.height_m) ?? '' }), body.depth_m != null && t('ready.form.depthOf', { depth: short(body.depth_m) ?? '' }), body.firm != null && t(body.firm ? 'ready.form.firmYes' : 'ready.form.firmNo')) }),
  'joint.checked': (body, job) => t('record.joint_checked', { against: job.slab?.abutting.find((face) => face.edge === body.edge)?.against ?? String(body.edge + 1), what: some(t(body.full_depth ? 'record.fullDepth' : 'record.notFullDepth'), t(body.continuous ? 'record.continuous' : 'record.notContinuous'), short(body.depth_m)) }),
  'level.shot': (body) => t('record.level_shot', { label: body.label, reading: long(body.reading_m) ?? '' }),
  'release.laid': (body, job) => t('record.release_laid', { what: some(bayOf(job, body.bay), body.what ? t(`texture.release.${body.what}`) : null, amount(body.mass_kg, 'mass'), body.product) }),
  'pin.dropped': (body, job) => t('record.pin_dropped', { what: some(t(`pour.pin.${body.what}`), bayOf(job, body.bay), body.note) }),
  'pin.closed': (body, job) => t('record.pin_closed', { what: pinWords(job, body.pin), how: body.how ?? '' }),
  'photo.taken': (body) => t('record.photo_taken', { caption: body.caption ?? '' }),
  'stage.reached': (body) => t('record.stage_reached', { phase: t(`record.phase.${body.phase === 'next_days' ? 'next-days' : body.phase}`) }),
  'cut.made': (body) => t('record.cut_made', { what: some(long(body.length_m), short(body.depth_m), t(`layout.saw.${body.saw}`), body.ravelled && t('nextDays.ravelled'), body.last && t('nextDays.wasLast')) }),
  'wash.done': (body) => t('record.wash_done', { what: some(body.method, t(body.contained ? 'nextDays.contained' : 'nextDays.notContained'), body.note) }),
  'colour.applied': (body) => t('record.colour_applied', { what: some(body.product, amount(body.area_m2, 'area'), body.note) }),
  'coat.sealed': (body) => t('record.coat_sealed', { coat: body.coat, what: some(body.product, amount(body.volume_l, 'sealer')) }),
  'reminder.acknowledged': () => t('record.reminder_acknowledged'),
  'reminder.snoozed': (body, job) => t('record.reminder_snoozed', { at: timeOf(job, body.until) }),
  'note.written': (body) => t('record.note_written', { text: body.text }),
  'job.closed': (body) => t('record.job_closed', { outcome: body.outcome ?? '' }),
  'event.retracted': () => t('record.event_retracted'),
  'load.merged': (body, job) => t('entries.load_merged', { load: loadOf(job, body.load), into: loadOf(job, body.into) }),
  'cover.laid': (body, job) => t('entries.cover_laid', { what: some(t(`entries.cover.${body.cover_kind}`), body.load && loadOf(job, body.load)) }),
  'cover.lifted': (body, job) => t('entries.cover_lifted', { what: coverWords(job, body.cover) }),
  'pin.assigned': (body, job) => (body.person ? t('entries.pin_assigned', { who: nameOf(body.person), what: pinWords(job, body.pin) || t('entries.gonePin') }) : t('entries.pin_unassigned', { what: pinWords(job, body.pin) || t('entries.gonePin') })),
  'product.chosen': (body) => t('entries.product_chosen', { work: t(`entries.work.${body.work}`), what: body.name ?? t('entries.limitsOnly') }),
  'sheet.tested': (body, job) => some(t(body.dry ? 'entries.sheet_dry' : 'entries.sheet_damp', { at: dayTimeOf(job, body.laid_at) }), bayOf(job, body.bay), body.note),
  'slot.kept': (body, job) => t(body.work === 'seal' ? 'entries.slot_coat' : 'entries.slot_kept', { work: t(`entries.work.${body.work}`), coat: body.coat, from: dayTimeOf(job, body.from), to: timeOf(job, body.to) }),
  'cut.planned': (body) => t('entries.cut_planned', { what: long(Math.hypot(body.to[0] - body.from[0], body.to[1] - body.from[1])) ?? '' }),
  'cut.tested': (body, job) => t('entries.cut_tested', { what: some(t(`entries.result.${body.result}`), t(`layout.saw.${body.saw}`), body.bay ? bayOf(job, body.bay) : body.load && loadOf(job, body.load)) }),
  'callback.noted': (body, job) => t('entries.callback_noted', { what: some(t(`entries.callback.${body.what}`), bayOf(job, body.bay), body.note) }),
  'learning.set_aside': (body) => t('entries.learning_set_aside', { why: body.why }),
  'care.set': (body) => t('entries.care_set', { what: careWords(body) || t('entries.careUsual') }),
}

const careWords = (body: Bodies['care.set']): string =>
  some(
    body.walk_h != null && t('entries.careWalk', { hours: body.walk_h }),
    body.drive_h != null && t('entries.careDrive', { hours: body.drive_h }),
    body.wash_days != null && t('entries.careWash', { days: body.wash_days }),
    body.reseal_months != null && t('entries.careReseal', { months: body.reseal_months }),
  )

function coverWords(job: JobView, cover: string): string {
  const found = job.covers.find((one) => one.id === cover)
  return found ? t(`entries.cover.${found.kind}`) : t('entries.goneCover')
}

const isId = (subject: string): boolean => subject.includes('-')

function pinWords(job: JobView, pin: string): string {
  const found = job.pins.find((one) => one.id === pin)
  return found ? t(`pour.pin.${found.what}`) : ''
}

/** What an entry says. A kind from a newer version of the log is named as such. */
export function describe(event: Event, job: JobView): string {
  const write = WORDS[event.kind] as ((body: Event['body'], job: JobView) => string) | undefined
  return (write ? write(event.body, job) : t('record.unknown', { kind: event.kind })).replace(/[\s:,]+$/, '').trim()
}
