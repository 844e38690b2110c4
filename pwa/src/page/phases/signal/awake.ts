/** The screen stays on while concrete is being worked, and no longer: batteries have to last the pour. */
import { signal, type ReadonlySignal } from '@preact/signals'
import type { JobView } from '../../../shared/job'
import { isLow } from '../../sync/rest'

const LONGEST_MS = 12 * 3_600_000

/** Concrete is on the slab and waits for its texture: from the first ticket until every bay is textured, 12 h at most. */
export function pourIsOpen(job: Pick<JobView, 'loads' | 'unticketed' | 'bays' | 'closed'>, now: Date): boolean {
  const begun = [...job.loads.map((load) => load.batched_at), ...job.unticketed.map(({ placed }) => placed.from)].map(Date.parse)
  const first = Math.min(...begun)
  if (job.closed || begun.length === 0 || now.getTime() < first || now.getTime() > first + LONGEST_MS) return false
  return job.bays.length === 0 || job.bays.some((bay) => !bay.steps.texture?.end)
}

export type Awake = 'idle' | 'held' | 'battery' | 'refused' | 'unsupported'
const state = signal<Awake>('idle')
/** Whether the screen is kept on, or why not. */
export const awake: ReadonlySignal<Awake> = state

type Sentinel = { readonly released: boolean; release(): Promise<void>; addEventListener(type: 'release', go: () => void): void }
type Battery = { readonly level: number; readonly charging: boolean; addEventListener(type: string, go: () => void): void }

export interface AwakeHost {
  readonly lock: { request(type: 'screen'): Promise<Sentinel> } | null
  readonly battery: (() => Promise<Battery>) | null
  readonly page: Pick<Document, 'visibilityState' | 'addEventListener'>
}

/** Keeps the screen on while wanted, takes the lock again when the page comes back, lets go when the battery is low. */
export class ScreenKeeper {
  private held: Sentinel | null = null
  private wanted = false
  private low = false
  private turn: Promise<void> = Promise.resolve()
  private readonly host: AwakeHost

  constructor(host: AwakeHost) {
    this.host = host
    host.page.addEventListener('visibilitychange', () => void this.settle())
    void this.watchBattery()
  }

  want(wanted: boolean): Promise<void> {
    this.wanted = wanted
    return this.settle()
  }

  /** One change after the other: a lock asked for while another is on its way would never be let go. */
  private settle(): Promise<void> {
    this.turn = this.turn.then(() => this.step())
    return this.turn
  }

  private async step(): Promise<void> {
    if (!this.wanted || this.low) {
      await this.held?.release()
      this.held = null
      state.value = this.wanted ? 'battery' : 'idle'
      return
    }
    if (!this.host.lock) {
      state.value = 'unsupported'
      return
    }
    if ((this.held && !this.held.released) || this.host.page.visibilityState !== 'visible') return
    await this.take(this.host.lock)
  }

  private async take(lock: NonNullable<AwakeHost['lock']>): Promise<void> {
    try {
      const held = await lock.request('screen')
      this.held = held
      state.value = 'held'
      // a hidden page loses it by itself; a visible one lost it to the phone
      held.addEventListener('release', () => {
        if (this.held === held && this.wanted && this.host.page.visibilityState === 'visible') state.value = 'refused'
      })
    } catch {
      state.value = 'refused' // saving power, or not allowed here: said on the screen
    }
  }

  private async watchBattery(): Promise<void> {
    const battery = await this.host.battery?.().catch(() => null)
    if (!battery) return
    const look = (): void => {
      this.low = isLow(battery)
      void this.settle()
    }
    battery.addEventListener('levelchange', look)
    battery.addEventListener('chargingchange', look)
    look()
  }
}

type Phone = Navigator & { readonly getBattery?: () => Promise<Battery> }

export function phoneAwakeHost(): AwakeHost {
  const phone = navigator as Phone
  return {
    lock: 'wakeLock' in phone ? phone.wakeLock : null,
    battery: phone.getBattery ? () => phone.getBattery?.() ?? Promise.reject(new Error('gone')) : null,
    page: document,
  }
}
