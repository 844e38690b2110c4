/** Which signals this phone has given, so that each comes once, also after a reload. */

const KEY = 'slabtide.signalled'
const KEPT_MS = 3 * 86_400_000

type Kept = Readonly<Record<string, number>>
export type Shelf = Pick<Storage, 'getItem' | 'setItem'>

/** What of `ids` has not been given yet; from now on it has. */
export function takeNew(ids: readonly string[], now: Date, shelf: Shelf | null = localShelf()): string[] {
  const kept = read(shelf)
  const fresh = ids.filter((id) => !Object.hasOwn(kept, id))
  if (fresh.length === 0) return []
  const standing = Object.entries(kept).filter(([, at]) => now.getTime() - at < KEPT_MS)
  write(shelf, Object.fromEntries([...standing, ...fresh.map((id) => [id, now.getTime()] as const)]))
  return fresh
}

/** Without storage it is remembered for as long as the page lives. */
let otherwise = '{}'

function localShelf(): Shelf | null {
  try {
    return localStorage
  } catch {
    return null // storage switched off
  }
}

function read(shelf: Shelf | null): Kept {
  try {
    const kept: unknown = JSON.parse(shelf?.getItem(KEY) ?? otherwise)
    return typeof kept === 'object' && kept !== null ? (kept as Kept) : {}
  } catch {
    return {} // not ours any more: at worst one signal comes twice
  }
}

function write(shelf: Shelf | null, kept: Kept): void {
  otherwise = JSON.stringify(kept)
  try {
    shelf?.setItem(KEY, otherwise)
  } catch {
    // full or switched off: as without storage
  }
}
