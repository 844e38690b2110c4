// The engine on this phone: its files brought in the background, its worker started, the jobs worked out as the log goes on.
import { effect, untracked } from '@preact/signals';
import { authorsSince, jobs, jobState, unsent } from '../log/journal';
import { noteStorageError } from '../log/storage';
import { correctedNow, now } from '../shell/now';
import { seekLead } from '../sync/leader';
import { outlook, serverOutlook } from '../sync/outlook';
import { me } from '../sync/state';
import { keepWorked, worked } from '../sync/worked';
import type { PersonId } from '../../shared/events';
import { ENGINE_CACHE } from '../../shared/engine-cache';
import { Engine, type Hand } from './engine';
import { manifest, totalBytes, type Manifest } from './files';
import { bytesHere, dropOthers, keepFiles, NotKept } from './keeping';
import { Keeper, type Seen } from './keeper';
import { toldAt, worthWorking } from './relevant';
import { decider, engineState, goOn, type Unable } from './state';

/** Several entries in a row are looked at once; the first after a pause hardly waits, for someone waits for its times. */
const settleDownMs = 250;
const atOnceMs = 30;
const longestPauseMs = 10 * 60_000;

/** Starts what is needed here; main calls it once, when the app stands. One tab works for all. */
export function startEngine(): void {
  const files = manifest;
  if (!files) return;
  seekLead(navigator.locks, {
    onLead: () => {
      let begun = false;
      effect(() => {
        if (begun || !isWanted()) return;
        begun = true;
        untracked(() => void begin(files));
      });
    },
    onLoss: () => undefined, // nobody takes this lead away
  }, 'slabtide-engine');
}

/** A desk always has its server. */
const isWanted = (): boolean => me.value?.role === 'crew' || me.value?.role === 'foreman';

async function begin(files: Manifest): Promise<void> {
  const unable = await bringFiles(files);
  if (unable) {
    giveUp(files, unable);
    return;
  }
  const engine = new Engine(() => new Worker(files.worker, { type: 'module', name: 'engine' }) as Hand, files);
  engineState.value = { at: 'starting' };
  try {
    const ms = await engine.start();
    performance.measure('slabtide-engine-start', { start: performance.now() - ms, duration: ms });
  } catch (error) {
    console.warn(error);
    engine.stop();
    giveUp(files, 'start');
    return;
  }
  engineState.value = { at: 'ready' };
  decider.value = (asked) => engine.decide(asked);
  workAlong(engine);
}

function giveUp(files: Manifest, why: Unable): void {
  engineState.value = { at: 'unable', why };
  goOn.value = () => {
    goOn.value = null;
    void begin(files);
  };
}

/** All files onto the phone, however often the line breaks; or why that can't be. */
async function bringFiles({ files }: Manifest): Promise<Unable | null> {
  if (typeof WebAssembly === 'undefined' || typeof Worker === 'undefined') return 'wasm';
  const all = totalBytes(files);
  let have = 0;
  try {
    const shelf = await caches.open(ENGINE_CACHE);
    have = await bytesHere(files, shelf);
    if (have < all && savesData()) await askFirst(have, all);
    for (let failures = 0; ; failures += 1) {
      const outcome = await tryToKeep();
      if (outcome === 'kept') break;
      if (outcome === 'storage') return 'storage';
      engineState.value = { at: 'waits', have, all };
      await pause(Math.min(30_000 * 2 ** failures, longestPauseMs));
    }
    await dropOthers(files, shelf);
    return null;

    async function tryToKeep(): Promise<'kept' | NotKept['why']> {
      try {
        await keepFiles(files, shelf, (path, init) => fetch(path, init), (bytes) => {
          have = bytes;
          if (bytes < all) engineState.value = { at: 'getting', have, all };
        });
        return 'kept';
      } catch (error) {
        if (!(error instanceof NotKept)) throw error;
        console.warn(error);
        return error.why;
      }
    }
  } catch (error) {
    console.warn(error);
    return 'storage';
  }
}

type Connection = { readonly connection?: { readonly saveData?: boolean } };
const savesData = (): boolean => (navigator as Connection).connection?.saveData === true;

function askFirst(have: number, all: number): Promise<void> {
  engineState.value = { at: 'asks', have, all };
  return new Promise((resolve) => {
    goOn.value = () => {
      goOn.value = null;
      resolve();
    };
  });
}

/** Until the time is over, a signal comes, or a person says so. */
function pause(ms: number): Promise<void> {
  return new Promise((resolve) => {
    const end = (): void => {
      clearTimeout(timer);
      removeEventListener('online', end);
      goOn.value = null;
      resolve();
    };
    const timer = setTimeout(end, ms);
    addEventListener('online', end);
    goOn.value = end;
  });
}

function workAlong(engine: Engine): void {
  const keeper = new Keeper({
    state: jobState,
    ask: async (question) => {
      const { answer, ms } = await engine.ask(question);
      performance.measure('slabtide-engine-work', { start: performance.now() - ms, duration: ms });
      return answer;
    },
    keep: keepWorked,
    fail: (error) => {
      if (!noteStorageError(error)) console.warn(error);
    },
  });
  let timer: ReturnType<typeof setTimeout> | undefined;
  let lookedAt = -Infinity;
  effect(() => {
    void [jobs.value, serverOutlook.value, unsent.value, now.value, me.value];
    clearTimeout(timer);
    timer = setTimeout(() => {
      lookedAt = performance.now();
      const seen = look();
      if (seen) void keeper.look(seen);
    }, performance.now() - lookedAt > settleDownMs ? atOnceMs : settleDownMs);
  });
}

function look(): Seen | null {
  const mine = me.peek();
  if (!mine) return null;
  const [server, here] = [serverOutlook.peek(), worked.peek()];
  const waits = unsent.peek().count > 0;
  return {
    jobs: worthWorking(jobs.peek(), server, here, (job) => waits && authorsSince(job, toldAt(server)).has(mine.person as PersonId)),
    server,
    shown: outlook.peek(),
    worked: here,
    company: mine.company.id,
    unsent: waits,
    now: correctedNow(),
  };
}
