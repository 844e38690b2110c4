/** The next days in the view: cuts planned and made, products, slots kept. */
import type { CutId, CutPlanned } from './events'
import type { Section } from './fold'
import { inClockOrder, keyed, leaf, once } from './leaves'
import { kept, type Ends } from './merges'
import type * as model from './model'
import { perimeter_m } from './polygon'

/** The cuts planned, by order; each with the first cut that ticks it. */
export function plannedCutsOf(section: Section, cuts: readonly model.Cut[], ends: Ends): readonly model.PlannedCut[] {
  const made = new Map<string, model.Cut>()
  for (const cut of cuts) if (cut.cut && !made.has(cut.cut)) made.set(cut.cut, cut)
  return keyed(section)
    .map(({ key: [id = ''], entry }) => {
      const planned = leaf<model.PlannedCut>(entry)
      const { from, to } = entry.body as CutPlanned
      const length_m = perimeter_m([from, to]) / 2
      return { ...planned, id: id as CutId, length_m, load: kept(planned.load, ends), made: made.get(id) ?? null }
    })
    .sort((a, b) => a.order - b.order || (a.id < b.id ? -1 : 1))
}

/** Length sawn; a planned cut ticked by two phones counts once. */
export function cutLengthOf(cuts: readonly model.Cut[]): number {
  const seen = new Set<string>()
  let total = 0
  for (const cut of cuts) {
    if (cut.cut && seen.has(cut.cut)) continue
    total += cut.length_m
    if (cut.cut) seen.add(cut.cut)
  }
  return total
}

/** What goes on, by the work it is for. */
export const productsOf = once((section): model.JobView['products'] =>
  Object.fromEntries(
    inClockOrder(keyed(section)).map(({ key: [work], entry }) => [work, leaf<model.Product>(entry, { work: work as model.Work })]),
  ),
)

/** The times kept, by work and coat. */
export const keptSlotsOf = once((section): readonly model.KeptSlot[] =>
  keyed(section)
    .map(({ key: [work, coat], entry }) => leaf<model.KeptSlot>(entry, { work: work as model.Work, coat: Number(coat) }))
    .sort((a, b) => (a.work < b.work ? -1 : a.work > b.work ? 1 : a.coat - b.coat)),
)
