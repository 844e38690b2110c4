// When to sync: on each record, when the signal comes back, when someone looks, and by the clock. One tab leads.
import { effect, untracked } from '@preact/signals';
import { readMeta } from '../../shared/store/meta';
import { noAnswer, type Failure } from '../../shared/store/answer';
import { book, channel } from '../log/journal';
import { connectPhotos, countPhotos } from '../log/photos';
import { noteStorageError, storage } from '../log/storage';
import { wall } from '../log/wall';
import { CallFailed } from './call';
import type { Carrier } from './carry/carrier';
import { seekLead, type Lead } from './leader';
import { Jumps } from './jumps';
import { openOutlook, refreshOutlook, serverOutlook } from './outlook';
import { fetchPhoto, sendPhotos } from './photo-uploads';
import { restMs, watchBattery } from './rest';
import { SyncRun, type Round } from './run';
import { readSession } from './session';
import { me, syncState, syncStateSignal, type SyncState } from './state';

export { syncState };
export type { SyncState };

const settleDownMs = 400;
/** The server works out new windows a moment after it took the events: ask again then. */
const outlookAgainMs = [3_000, 10_000];
/** A leader that is awake says how it stands as soon as it is asked to sync. */
const leaderAnswersMs = 4_000;

let leading = false;
let running: Promise<void> | null = null;
let again = false;
let timer: ReturnType<typeof setTimeout> | undefined;
let noSign: ReturnType<typeof setTimeout> | undefined;
let lead: Lead | undefined;

const run = new SyncRun(storage, (input, init) => fetch(input, init), {
  settled: (settled) => book.settled(settled),
  putRight: (events) => book.putRight(events),
  offset: (offsetMs) => {
    book.setOffset(offsetMs);
    show({ clockOffsetMs: offsetMs, clockAheadMs: 0 });
  },
}, () => wall.now());

const jumps = new Jumps(storage, {
  offsetMs: () => syncStateSignal.peek().clockOffsetMs,
  position: () => book.position(),
  setOffset: (offsetMs) => {
    book.setOffset(offsetMs);
    show({ clockOffsetMs: offsetMs });
  },
  sayAhead: (byMs) => show({ clockAheadMs: byMs }),
  doubt: () => run.doubtClock(),
});

function show(change: Partial<SyncState>): void {
  syncStateSignal.value = { ...syncStateSignal.value, ...change };
  if (leading) channel.post({ type: 'sync-state', state: syncStateSignal.value });
}

/** Syncs now and waits for the outcome, which `syncState` tells. In a tab that doesn't lead, asks the one that does. */
export async function syncNow(): Promise<void> {
  if (!leading) {
    wakeLeader();
    return;
  }
  if (running) {
    again = true;
    return running;
  }
  clearTimeout(timer);
  running = work().finally(() => {
    running = null;
    const soon = again;
    again = false;
    plan(soon ? 0 : undefined);
  });
  return running;
}

/** Asks the tab that leads; one that gives no sign is asleep, and this tab takes over. */
function wakeLeader(): void {
  channel.post({ type: 'wake' });
  clearTimeout(noSign);
  noSign = setTimeout(() => lead?.take(), leaderAnswersMs);
}

async function work(): Promise<void> {
  show({ phase: 'syncing' });
  try {
    const unsentBefore = book.unsent.value.count;
    const carrier = await fetchCarrier();
    if (carrier && !(await carrier.begin()) && unsentBefore === 0) {
      tell(noAnswer);
      return;
    }
    const outcome = await run.drain();
    tell(outcome);
    if (outcome !== 'done') return;
    await sendPhotos();
    await countPhotos();
    await refreshOutlook();
    if (unsentBefore > 0) for (const ms of outlookAgainMs) setTimeout(() => void lookAgain(), ms);
    const told = serverOutlook.peek();
    if (told) await carrier?.carryOn(told);
  } catch (error) {
    if (error instanceof CallFailed) return; // outlook or photos: the next round asks again
    if (!noteStorageError(error)) console.error(error);
    show({ phase: 'problem', problem: error instanceof Error ? error.message : String(error) });
  }
}

/** Without it what is held goes on being synced; what waits must not hang on a file that is gone. */
function fetchCarrier(): Promise<Carrier | null> {
  return import('./carry').then(({ carrier }) => carrier, (error: unknown) => {
    console.error(error);
    return null;
  });
}

async function lookAgain(): Promise<void> {
  try {
    await refreshOutlook();
  } catch (error) {
    if (!(error instanceof CallFailed)) throw error;
  }
}

function tell(outcome: Round): void {
  if (outcome === 'done' || outcome === 'more') show({ phase: 'idle', lastOk: new Date().toISOString(), problem: null, trouble: null });
  else if (outcome === 'not joined') show({ phase: 'idle', problem: null, trouble: null });
  else show({ phase: phaseOf(outcome), problem: outcome.trouble.message, trouble: outcome.trouble });
}

function phaseOf(failure: Failure): SyncState['phase'] {
  return failure.kind === 'cut' ? 'offline' : 'problem';
}

function plan(ms?: number): void {
  clearTimeout(timer);
  if (!leading) {
    if (ms !== undefined) timer = setTimeout(wakeLeader, ms);
    return;
  }
  const hidden = document.visibilityState === 'hidden';
  const wait = run.pace.waitMs(Math.random());
  timer = setTimeout(() => void syncNow(), ms ?? (wait > 0 && navigator.onLine ? wait : restMs(hidden)));
}

/** Starts to sync. Main calls it once, after the log is open. */
export async function startSync(): Promise<void> {
  connectPhotos(fetchPhoto, () => plan(settleDownMs));
  book.onRecorded = () => {
    again = running !== null; // what is recorded during a call goes right after it
    plan(settleDownMs);
  };
  channel.listen((message) => {
    if (message.type === 'wake') answerWake();
    else if (message.type === 'sync-state') hearLeader(message.state as SyncState);
    else if (message.type === 'session') void readSession();
  });
  const lastOk = await storage.run((db) => readMeta(db, 'lastOk'));
  const offsetMs = await storage.run((db) => readMeta(db, 'offsetMs'));
  show({ lastOk: lastOk ?? null, clockOffsetMs: offsetMs ?? 0 });
  watchWall();
  await jumps.started(book.unsent.peek().count);
  await openOutlook();
  await countPhotos();
  void watchBattery();
  effect(() => {
    if (me.value) untracked(() => void syncNow());
  });
  addEventListener('online', () => void syncNow());
  document.addEventListener('visibilitychange', () => void syncNow());
  addEventListener('pageshow', (event) => {
    if (event.persisted) void book.open().then(syncNow);
  });
  document.addEventListener('resume', () => void book.open().then(syncNow));
  lead = seekLead(navigator.locks, {
    onLead: () => {
      leading = true;
      clearTimeout(noSign);
      void syncNow();
    },
    onLoss: () => {
      leading = false;
      clearTimeout(timer);
    },
  });
}

/** A clock that is set is noticed at each entry and each tick of the screens, and here when the page comes back. */
function watchWall(): void {
  wall.onJump = (jump) => void jumps.hear(jump).catch((error: unknown) => {
    if (!noteStorageError(error)) console.error(error);
  });
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'hidden') wall.hidden();
    else wall.now();
  });
}

function answerWake(): void {
  if (!leading) return;
  show({}); // a sign of life, also in the middle of a long call
  void syncNow();
}

function hearLeader(state: SyncState): void {
  clearTimeout(noSign);
  if (leading) return;
  wall.now(); // a jump that the leader has counted in is counted here before, not on top
  syncStateSignal.value = state;
  book.setOffset(state.clockOffsetMs);
}
