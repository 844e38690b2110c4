/** The tones and buzzes, made by the phone itself: no file, no signal needed. */
import type { SignalWhat } from './events'

interface Note {
  readonly hz: number
  /** From the start of the signal [s]. */
  readonly at: number
  readonly lasts: number
}

/** Told apart by pitch, number and length, and by the buzz alone in ear protection. */
export const TONES: Readonly<Record<SignalWhat, readonly Note[]>> = {
  opens: [{ hz: 660, at: 0, lasts: 0.3 }, { hz: 990, at: 0.35, lasts: 0.5 }],
  closing: [0, 0.3, 0.6].map((at) => ({ hz: 1_320, at, lasts: 0.2 })),
  dry: [{ hz: 330, at: 0, lasts: 1.2 }],
}
export const BUZZES: Readonly<Record<SignalWhat, readonly number[]>> = {
  opens: [200, 150, 400],
  closing: [150, 100, 150, 100, 150, 100, 150],
  dry: [900],
}

const LOUD = 0.6
const RAMP_S = 0.02 // no click at start and end

export interface Host {
  readonly makeAudio: (() => AudioContext) | null
  readonly vibrate: ((pattern: number[]) => boolean) | null
}

/** Browsers give sound only after a touch: `unlock` is to be called in one. */
export class Voice {
  private audio: AudioContext | null = null
  private readonly host: Host

  constructor(host: Host) {
    this.host = host
  }

  /** Whether a tone would be heard (as far as a page can know). */
  get canSound(): boolean {
    return this.audio?.state === 'running'
  }

  async unlock(): Promise<void> {
    this.audio ??= this.host.makeAudio?.() ?? null
    if (this.audio && this.audio.state !== 'running') await this.audio.resume()
  }

  /** Plays and buzzes; where the phone allows neither, nothing happens: the words stand on the screen anyway. */
  give(what: SignalWhat): void {
    this.host.vibrate?.([...BUZZES[what]])
    const { audio } = this
    if (!audio || audio.state !== 'running') return
    for (const note of TONES[what]) sound(audio, note)
  }
}

function sound(audio: AudioContext, { hz, at, lasts }: Note): void {
  const start = audio.currentTime + at
  const end = start + lasts
  const tone = audio.createOscillator()
  const loudness = audio.createGain()
  tone.type = 'triangle'
  tone.frequency.value = hz
  loudness.gain.setValueAtTime(0, start)
  loudness.gain.linearRampToValueAtTime(LOUD, start + RAMP_S)
  loudness.gain.setValueAtTime(LOUD, end - RAMP_S)
  loudness.gain.linearRampToValueAtTime(0, end)
  tone.connect(loudness).connect(audio.destination)
  tone.start(start)
  tone.stop(end)
}

export function phoneHost(): Host {
  return {
    makeAudio: typeof AudioContext === 'undefined' ? null : () => new AudioContext(),
    vibrate: typeof navigator !== 'undefined' && 'vibrate' in navigator ? (pattern) => navigator.vibrate(pattern) : null,
  }
}
