/** Loads written down twice: which load each of them is in the end. */
import type { LoadId, LoadMerged } from './events'
import type { Entry, Section } from './fold'
import { inClockOrder, keyed, leaf } from './leaves'
import type * as model from './model'

/** The load that is kept, for each double of it. */
export type Ends = ReadonlyMap<string, LoadId>

/** Chains are followed; a ring counts for nothing, nor does a merge into a load that is not there. */
export function endsOf(merges: Section, loads: Section): Ends {
  const there = new Set(keyed(loads).map(({ key }) => key[0]))
  const all = Array.from(merges, ([load, entry]) => [load, (entry.body as LoadMerged).into] as const)
  const said = new Map(all.filter(([, into]) => there.has(into)))
  const steps = new Map([...said].filter(([load]) => !comesBack(load, said)))
  return new Map(Array.from(steps, ([load, into]) => [load, last(into, steps)]))
}

function comesBack(load: string, steps: Ends): boolean {
  let here = steps.get(load)
  for (let step = 0; step < steps.size && here !== undefined; step += 1) {
    if (here === load) return true
    here = steps.get(here)
  }
  return false
}

function last(load: LoadId, steps: Ends): LoadId {
  let here = load
  for (let next = steps.get(here); next !== undefined; next = steps.get(here)) here = next
  return here
}

/** The load that is meant, where a double is named. */
export function kept(load: LoadId | null, ends: Ends): LoadId | null {
  return load === null ? null : (ends.get(load) ?? load)
}

/** Leaves that name a double told as of the load that is kept. */
export function ofKept<L extends { readonly load: LoadId | null }>(found: readonly L[], ends: Ends): readonly L[] {
  if (ends.size === 0) return found
  return found.map((told) => (told.load && ends.has(told.load) ? { ...told, load: kept(told.load, ends) } : told))
}

/** The merges that count, earliest first. */
export function mergedOf(merges: Section, ends: Ends): readonly model.Merged[] {
  return inClockOrder(keyed(merges)).flatMap(({ key: [load = ''], entry }) => {
    const into = ends.get(load)
    return into ? [{ ...leaf<model.Merged>(entry), load: load as LoadId, into }] : []
  })
}

/** One part of each load that is kept: its own, else the earliest written of its doubles'. */
export function ofLoads(loads: Section, part: 'ticket' | 'placed', ends: Ends): readonly (readonly [string, Entry])[] {
  const found = new Map<string, Entry>()
  for (const { key, entry } of inClockOrder(keyed(loads))) if (key[1] === part) found.set(key[0] ?? '', entry)
  const standing = new Map<string, Entry>()
  for (const [load, entry] of found) {
    const end = ends.get(load) ?? load
    if (end === load || !(found.has(end) || standing.has(end))) standing.set(end, entry)
  }
  return [...standing]
}
