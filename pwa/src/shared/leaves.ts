/** Reading leaves of the view out of a state's entries. */
import { FIELDS, RULES, type Kind } from './events'
import type { Entry, JobState, Section } from './fold'
import type * as model from './model'

/** A section that nothing was written to. */
export const EMPTY: Section = new Map()

export interface Keyed {
  readonly key: readonly string[]
  readonly entry: Entry
}

/** The entries of a section with their keys in parts. */
export function keyed(section: Section): Keyed[] {
  return Array.from(section, ([rest, entry]) => ({ key: rest.split('/'), entry }))
}

/** Reads a section once: while it stays the same object, so does what was read of it. */
export function once<Reading>(read: (section: Section) => Reading): (section: Section) => Reading {
  const known = new WeakMap<Section, { readonly reading: Reading }>()
  return (section) => {
    const kept = known.get(section) ?? { reading: read(section) }
    known.set(section, kept)
    return kept.reading
  }
}

/** By clock, then event: the order of the log. */
export function inClockOrder(group: readonly Keyed[]): Keyed[] {
  return [...group].sort(({ entry: a }, { entry: b }) =>
    a.clock < b.clock || (a.clock === b.clock && a.event < b.event) ? -1 : 1,
  )
}

const leaves = new WeakMap<Entry, object>()

/** What a kind's leaf holds: the body's fields, without those its key is made of. */
const leafFields = new Map<string, readonly string[]>()
for (const kind of Object.keys(FIELDS) as Kind[]) {
  const rule = RULES[kind]
  leafFields.set(kind, FIELDS[kind].filter((name) => !('set' in rule && rule.set.includes(`{${name}}`))))
}

/** A leaf: the body with null for what was left out, where it came from, and more. The same object for the same entry. */
export function leaf<L extends model.Leaf>(entry: Entry, more?: Partial<L>): L {
  const known = leaves.get(entry)
  if (known) return known as L
  const body = entry.body as Record<string, unknown>
  const made: Record<string, unknown> = { event: entry.event, at: entry.at, author: entry.author, ...more }
  for (const name of leafFields.get(entry.kind) ?? []) made[name] = body[name] ?? null
  leaves.set(entry, made)
  return made as unknown as L
}

/** The leaf of a key, if something holds it. */
export function one<L extends model.Leaf>(entry: Entry | undefined): L | null {
  return entry ? leaf<L>(entry) : null
}

/** The leaves of a collection, in its order. */
export function items<L extends model.Leaf>(state: JobState, collection: string): readonly L[] {
  return (state.items[collection] ?? []).map((entry) => leaf<L>(entry))
}

const traces = new WeakMap<Entry, model.Leaf>()

/** Where a value comes from, and no more. The same object for the same entry. */
export function trace(entry: Entry): model.Leaf {
  const { event, at, author } = entry
  const made = traces.get(entry) ?? { event, at, author }
  traces.set(entry, made)
  return made
}
