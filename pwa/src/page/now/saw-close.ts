/** When the saw may start and must be done: by our reckoning, by the handbooks, and which of them counts. No DOM. */
import type { LoadTimeline, SawPractice, TimeWindow } from '../sync/contract'
import { loadSaw } from './saw-window'

export type By = 'ours' | 'handbook'

export interface Beside {
  readonly ours: TimeWindow | null
  readonly handbook: SawPractice | null
  readonly opens: { readonly at: Date; readonly by: By }
  readonly closes: { readonly at: Date; readonly by: By } | null
  /** The handbooks close it because the surface has cooled, not by the clock. */
  readonly cooled: boolean
}

/** One load's saw: ours opens it, whoever closes first closes it; null where neither says anything. */
export function sawBeside(load: LoadTimeline): Beside | null {
  const window = loadSaw(load)
  if (!window) return null
  const ours = load.windows.saw ?? null
  const handbook = load.saw_practice ?? null
  const cooled = handbook !== null && handbook.surface_drop !== null && handbook.source.includes('FHWA')
  const by = (mine: string | undefined, used: string): By => (mine !== undefined && Date.parse(mine) === Date.parse(used) ? 'ours' : 'handbook')
  const told = (mine: string | undefined, used: string) => ({ at: new Date(used), by: by(mine, used) })
  return { ours, handbook, cooled, opens: told(ours?.opens.likely, window.opens.likely), closes: window.closes && told(ours?.closes?.likely, window.closes.likely) }
}
