/**
 * Events to state. The fold is a function of the set of events: order, duplicates and replays never matter.
 * set: the last event by (clock, id) holds its key. add: events join a collection, in that order.
 * retract: hides an earlier event, unless it is hidden itself; so retracting a retract brings the event back.
 */
import { before, byClock, type Logged } from './event'
import { RULES, type DeviceId, type EventId, type Instant, type JobId, type PersonId, type Rule } from './events'

export interface Entry {
  readonly event: EventId
  readonly at: Instant
  readonly author: PersonId
  readonly device: DeviceId
  readonly clock: string
  readonly body: object
  readonly kind: string
}

export interface JobState {
  readonly job: JobId
  readonly set: Readonly<Record<string, Entry>>
  readonly items: Readonly<Record<string, readonly Entry[]>>
}

/** The entries of one sort of key by the rest of it: `bays` holds `b1/mag/start`. Keys of one part are under ''. */
export type Section = ReadonlyMap<string, Entry>

/** A state in sections. A section is the same object until one of its keys changes, so what is read of it can be kept. */
class Snapshot implements JobState {
  constructor(
    readonly job: JobId,
    readonly sections: ReadonlyMap<string, Section>,
    readonly items: JobState['items'],
  ) {}

  get set(): JobState['set'] {
    const all = [...this.sections].flatMap(([name, section]) =>
      [...section].map(([rest, entry]): [string, Entry] => [name === '' ? rest : `${name}/${rest}`, entry]),
    )
    return Object.fromEntries(all)
  }

  toJSON(): JobState {
    return { job: this.job, set: this.set, items: this.items }
  }
}

/** The sections of a state, whether it was folded here or read from JSON. */
export function sectionsOf(state: JobState): ReadonlyMap<string, Section> {
  if (state instanceof Snapshot) return state.sections
  const sections = new Map<string, Map<string, Entry>>()
  for (const [key, entry] of Object.entries(state.set)) {
    const [name, rest] = partedKey(key)
    mapIn(sections, name).set(rest, entry)
  }
  return sections
}

function partedKey(key: string): [name: string, rest: string] {
  const slash = key.indexOf('/')
  return slash < 0 ? ['', key] : [key.slice(0, slash), key.slice(slash + 1)]
}

function mapIn(sections: Map<string, Map<string, Entry>>, name: string): Map<string, Entry> {
  const known = sections.get(name)
  if (known) return known
  const made = new Map<string, Entry>()
  sections.set(name, made)
  return made
}

/** The state of one job. Throws when events of two jobs are mixed. */
export function fold(events: Iterable<Logged>, job?: JobId): JobState {
  // From latest to earliest every retract is in before its target, so nothing is shown only to be hidden again.
  const latestFirst = [...events].sort((a, b) => byClock(b, a))
  const folding = new JobFold(job ?? latestFirst[0]?.job ?? ('' as JobId))
  for (const event of latestFirst) folding.add(event)
  return folding.state
}

/** The fold rule of a kind; undefined for one that this version does not know. */
export function ruleOf(kind: string): Rule | undefined {
  return Object.hasOwn(RULES, kind) ? RULES[kind as keyof typeof RULES] : undefined
}

/** The key a set writes, or undefined when the body lacks a part of it. */
export function keyOf(template: string, body: object): string | undefined {
  const parts = partsOf(template)
  let key = parts[0] ?? ''
  for (let index = 1; index < parts.length; index += 2) {
    const value: unknown = (body as Record<string, unknown>)[parts[index] ?? '']
    const fits = typeof value === 'string' ? !value.includes('/') : Number.isInteger(value)
    if (!fits) return undefined
    key += String(value) + (parts[index + 1] ?? '')
  }
  return key
}

const templates = new Map<string, readonly string[]>()

/** A template as fixed text and field names in turn. */
function partsOf(template: string): readonly string[] {
  const known = templates.get(template)
  if (known) return known
  const made = template.split(/[{}]/)
  templates.set(template, made)
  return made
}

/** The fold of one job, event by event: adding one costs its own key, not the whole log. */
export class JobFold {
  private readonly events = new Map<string, Logged>()
  private readonly entries = new Map<string, Entry>()
  private readonly hidden = new Set<string>()
  private readonly retracts = new Map<string, string[]>()
  private readonly keys = new Map<string, Logged[]>()
  private readonly sections = new Map<string, Map<string, Entry>>()
  private readonly items = new Map<string, Logged[]>()
  /** What the last state was made of; a part that changed since is not here. */
  private readonly madeSections = new Map<string, Section>()
  private readonly madeItems = new Map<string, readonly Entry[]>()
  private made: JobState | undefined

  constructor(readonly job: JobId) {}

  /** The state now; the same object until an event changes it. */
  get state(): JobState {
    this.made ??= new Snapshot(this.job, this.copiedSections(), this.collections())
    return this.made
  }

  /**
   * Takes an event in; false when it was known. Of two copies of one id the smaller clock stands: a server only ever
   * lowers a clock. Throws RangeError for an event of another job.
   */
  add(event: Logged): boolean {
    if (event.job !== this.job) throw new RangeError(`event ${event.id} belongs to job ${event.job}, not ${this.job}`)
    const known = this.events.get(event.id)
    if (known && known.clock <= event.clock) return false
    if (known) this.drop(known)
    this.events.set(event.id, event)
    this.entries.set(event.id, entryOf(event))
    this.place(event)
    this.settle(event)
    return true
  }

  /** Who wrote to the job from then on, by what they say of when; withdrawn entries too. */
  authorsSince(sinceMs: number): Set<PersonId> {
    const authors = new Set<PersonId>()
    for (const { at, author } of this.events.values()) if (Date.parse(at) >= sinceMs) authors.add(author)
    return authors
  }

  private copiedSections(): ReadonlyMap<string, Section> {
    for (const [name, section] of this.sections) {
      if (!this.madeSections.has(name)) this.madeSections.set(name, new Map(section))
    }
    return new Map([...this.madeSections].filter(([, section]) => section.size > 0))
  }

  private collections(): Record<string, readonly Entry[]> {
    for (const [name, events] of this.items) {
      if (!this.madeItems.has(name)) this.madeItems.set(name, events.map((event) => this.entryFor(event)))
    }
    return Object.fromEntries([...this.madeItems].filter(([, entries]) => entries.length > 0))
  }

  private entryFor(event: Logged): Entry {
    return this.entries.get(event.id) ?? entryOf(event)
  }

  private place(event: Logged): void {
    const target = targetOf(event)
    if (target !== undefined) {
      const others = this.retracts.get(target)
      if (others) others.push(event.id)
      else this.retracts.set(target, [event.id])
    }
    if (this.isRetracted(event)) this.hidden.add(event.id)
    else this.show(event)
  }

  private drop(event: Logged): void {
    this.hide(event)
    this.hidden.delete(event.id)
    this.events.delete(event.id)
    const target = targetOf(event)
    if (target === undefined) return
    const others = this.retracts.get(target) ?? []
    this.retracts.set(target, others.filter((id) => id !== event.id))
  }

  /** Looks again at what the event retracts, and at what that retracts, until nothing changes. */
  private settle(event: Logged): void {
    let target = this.events.get(targetOf(event) ?? '')
    while (target) {
      const retracted = this.isRetracted(target)
      if (retracted === this.hidden.has(target.id)) return
      if (retracted) {
        this.hidden.add(target.id)
        this.hide(target)
      } else {
        this.hidden.delete(target.id)
        this.show(target)
      }
      target = this.events.get(targetOf(target) ?? '')
    }
  }

  private isRetracted(event: Logged): boolean {
    return (this.retracts.get(event.id) ?? []).some((id) => {
      const retract = this.events.get(id)
      return retract !== undefined && !this.hidden.has(id) && before(event, retract)
    })
  }

  private show(event: Logged): void {
    const place = this.placeOf(event)
    if (!place) return
    insert(place.events, event)
    this.hold(place)
  }

  private hide(event: Logged): void {
    const place = this.placeOf(event)
    if (!place) return
    remove(place.events, event)
    this.hold(place)
  }

  private placeOf(event: Logged): Place | undefined {
    const rule = ruleOf(event.kind)
    if (rule && 'add' in rule) return { events: listIn(this.items, rule.add), collection: rule.add }
    const key = rule && 'set' in rule ? keyOf(rule.set, event.body) : undefined
    return key === undefined ? undefined : { events: listIn(this.keys, key), key }
  }

  private hold(place: Place): void {
    this.made = undefined
    if ('collection' in place) {
      this.madeItems.delete(place.collection)
      return
    }
    const [name, rest] = partedKey(place.key)
    const last = place.events.at(-1)
    const section = mapIn(this.sections, name)
    if (last) section.set(rest, this.entryFor(last))
    else section.delete(rest)
    this.madeSections.delete(name)
  }
}

/** Where an event stands: among the holders of a key, or in a collection. */
type Place = { readonly events: Logged[] } & ({ readonly key: string } | { readonly collection: string })

function entryOf({ id, at, author, device, clock, body, kind }: Logged): Entry {
  return { event: id, at, author, device, clock, body, kind }
}

function targetOf(event: Logged): string | undefined {
  const rule = ruleOf(event.kind)
  if (!rule || !('retract' in rule)) return undefined
  const target: unknown = (event.body as { event?: unknown }).event
  return typeof target === 'string' ? target : undefined
}

function listIn(map: Map<string, Logged[]>, key: string): Logged[] {
  const known = map.get(key)
  if (known) return known
  const made: Logged[] = []
  map.set(key, made)
  return made
}

/** Where the event stands, or would stand, in a sorted list. */
function placeIn(events: readonly Logged[], event: Logged): number {
  let low = 0
  let high = events.length
  while (low < high) {
    const middle = (low + high) >> 1
    const other = events[middle]
    if (other && before(other, event)) low = middle + 1
    else high = middle
  }
  return low
}

function insert(events: Logged[], event: Logged): void {
  events.splice(placeIn(events, event), 0, event)
}

function remove(events: Logged[], event: Logged): void {
  const index = placeIn(events, event)
  if (events[index]?.id === event.id) events.splice(index, 1)
}
