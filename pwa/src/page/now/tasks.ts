import type { Bay, JobView } from '../../shared/job';
import { stateWord, timeLeft, type StateWord, type WorkWindow } from '../look/tide/window';
import { paceOf } from '../decide/contract';
import type { JobOutlook, Reminder, Timeline } from '../sync/contract';
import { sawWindow } from './saw-window';

export type Work = 'edge' | 'texture' | 'saw' | 'wash' | 'colour' | 'seal';

/** One piece of work that is not done yet, and the window the concrete gives it. */
export interface Task {
  readonly job: JobView;
  readonly work: Work;
  readonly window: WorkWindow;
  readonly state: StateWord;
  /** The load's number, for work that goes load by load. */
  readonly load: number | null;
  /** Which coat of sealer. */
  readonly coat: number | null;
  /** Someone has begun it. */
  readonly started: boolean;
  /** The first bay of the load that still waits for it, where bays are drawn. */
  readonly bay?: string | null;
  /** When texturing must begin so that it is done in time, where the crew's pace is known. */
  readonly startBy?: Date | null;
  /** What comes after it on the same concrete must begin by then: edges come before mats, however long they hold. */
  readonly before?: Date | null;
}

const HOUR_MS = 3_600_000;
/** A ready window with less than this left comes before work that only waits. */
const SOON_MS = 3 * HOUR_MS;
/** How long a window that closed with its work undone is still worth saying. */
const PAST_HAND_MS = 6 * HOUR_MS;
const PAST_DAY_MS = 24 * HOUR_MS;

/** A load's number: from its ticket, else from the planned load's id, else its place in the list. */
export function loadNumber(job: JobView, id: string, index: number): number {
  const ticketed = job.loads.find((load) => load.id === id);
  const planned = /^\D*(\d{1,2})$/.exec(id)?.[1];
  return ticketed?.number ?? (planned ? Number(planned) : index + 1);
}

/** All work of a job that the concrete has a say in and that is not done; nothing before the first load or after closing. */
export function tasksOf(
  job: JobView,
  look: JobOutlook | undefined,
  reminders: readonly Reminder[],
  now: Date,
): Task[] {
  const timeline = look?.timeline ?? null;
  const poured = job.loads.length + job.unticketed.length > 0;
  if (job.closed || !poured) return [];
  const task = (work: Work, window: WorkWindow | null | undefined, more: Partial<Task> = {}): Task[] =>
    window
      ? [
          {
            job,
            work,
            window,
            state: stateWord(now, window),
            load: null,
            coat: null,
            started: false,
            ...more,
          },
        ]
      : [];
  const hand = (timeline?.loads ?? []).flatMap((load, index) => {
    const done = handWork(job, load.id);
    const number = loadNumber(job, load.id, index);
    const texture = {
      load: number,
      started: done.textureBegun,
      bay: waitingBay(job, load.id, 'texture'),
      startBy: done.textureBegun ? null : startBy(job, timeline, load.id),
    };
    return [
      ...(done.edge
        ? []
        : task('edge', load.windows.edge, {
            load: number,
            bay: waitingBay(job, load.id, 'edge'),
            before: texture.startBy,
          })),
      ...(done.texture ? [] : task('texture', load.windows.texture, texture)),
    ];
  });
  // Times that have not come here yet may end sooner than practice: it speaks only where none could be worked out.
  const saw = job.cuts_done || !look
    ? []
    : task('saw', sawWindow(job, look.planned ? null : timeline), { started: job.cuts.length > 0 });
  const days = dayWork(job, reminders).flatMap(({ reminder, coat }) =>
    task(reminder.what, reminder, { coat }),
  );
  return [...hand, ...saw, ...days].filter((one) => worthSaying(one, now));
}

/** The label of the first bay of a load whose step is not done; null where no bays are drawn. */
function waitingBay(job: JobView, load: string, step: 'edge' | 'texture'): string | null {
  const bays = job.bays.filter((bay) => bay.load === load);
  const open = bays.filter((bay) => !bay.steps[step]?.end);
  return (open.find((bay) => bay.steps[step]?.start) ?? open[0])?.label ?? null;
}

/** The latest start that leaves the crew's own time before a load closes; for a slab not begun, before all do. */
function startBy(job: JobView, timeline: Timeline | null, load: string): Date | null {
  const pace = paceOf(timeline);
  const mine = pace?.loads.find((one) => one.id === load);
  if (!pace || !mine) return null;
  const takes = Date.parse(mine.finished.likely) - Date.parse(mine.reached.likely);
  const own = Date.parse(mine.closes.early) - takes;
  const begun = job.bays.some((bay) => bay.steps.texture?.start);
  const all = !begun && pace.start.by && pace.loads[0]?.id === load ? Date.parse(pace.start.by.early) : Infinity;
  return new Date(Math.min(own, all));
}

interface HandWork {
  edge: boolean;
  texture: boolean;
  textureBegun: boolean;
}

/** What the bays of a load say of its hand work. Once texturing has begun, edging is taken as done; once touch-up has, or a test cut was made, texturing is. */
export function handWork(job: JobView, load: string): HandWork {
  const bays = job.bays.filter((bay) => bay.load === load);
  const after = job.phase === 'next_days' || job.phase === 'record';
  const all = (test: (bay: Bay) => boolean) => bays.length > 0 && bays.every(test);
  const texture = after || isTested(job, load) || all(({ steps }) => Boolean(steps.texture?.end ?? steps.touch_up?.start ?? steps.touch_up?.end));
  const textureBegun = bays.some((bay) => Boolean(bay.steps.texture?.start));
  const edged = all((bay) => Boolean(bay.steps.edge?.end ?? bay.steps.texture?.start));
  return { edge: texture || edged, texture, textureBegun };
}

/** A test cut of this load, or one that names none. */
const isTested = ({ test_cuts, bays }: JobView, load: string): boolean =>
  test_cuts.some((cut) => [load, null].includes(cut.load ?? bays.find(({ id }) => id === cut.bay)?.load ?? null));

/** A reminder of work that waits for the days after the pour. */
type DayReminder = Reminder & { readonly what: DayWork };
type DayWork = 'wash' | 'colour' | 'seal';
const isOfDays = (reminder: Reminder): reminder is DayReminder => reminder.what === 'wash' || reminder.what === 'colour' || reminder.what === 'seal';

interface DayTask {
  reminder: DayReminder;
  coat: number | null;
}

/** Washing, color and sealing still to do: one of each, from the reminders the office worked out. */
export function dayWork(job: JobView, reminders: readonly Reminder[]): DayTask[] {
  const seen = new Set<string>();
  return reminders.flatMap((reminder) => {
    const key = `${reminder.what}/${reminder.subject}`;
    if (reminder.job !== job.id || !isOfDays(reminder) || reminder.state === 'cancelled') return [];
    if (seen.has(key) || isDone(job, reminder)) return [];
    seen.add(key);
    return [{ reminder, coat: coatOf(reminder) }];
  });
}

/** The coat a seal reminder is for, or null. */
export function coatOf(reminder: Pick<Reminder, 'what' | 'subject'>): number | null {
  const coat = /^coat-(\d+)$/.exec(reminder.subject)?.[1];
  return reminder.what === 'seal' ? Number(coat ?? 1) : null;
}

/** Whether the log says that what a reminder asks for is done. */
export function isDone(job: JobView, reminder: Pick<Reminder, 'what' | 'subject'>): boolean {
  if (reminder.what === 'check' || reminder.what === 'texture') return isHandWorkDone(job, reminder);
  if (reminder.what === 'saw') return job.cuts_done;
  if (reminder.what === 'wash') return job.washes.length > 0;
  if (reminder.what === 'colour') return job.colours.length > 0;
  const coat = coatOf(reminder) ?? 1;
  return job.coats.some((done) => done.coat >= coat);
}

/** The load's number in the subject of a reminder of hand work, or null. */
export const loadOf = ({ subject }: Pick<Reminder, 'subject'>): number | null => {
  const number = /^load-(\d+)$/.exec(subject)?.[1];
  return number ? Number(number) : null;
};

/** Texturing is done with its load's bays, and a check is moot once mats lie there; whether one was made in time the server says. */
function isHandWorkDone(job: JobView, reminder: Pick<Reminder, 'what' | 'subject'>): boolean {
  const loads = job.loads.filter(({ number }) => number === loadOf(reminder));
  return loads.length > 0 && loads.every(({ id }) => {
    const done = handWork(job, id);
    return done.texture || (reminder.what === 'check' && done.textureBegun);
  });
}

function worthSaying(task: Task, now: Date): boolean {
  if (task.state !== 'past' || !task.window.closes) return true;
  const since = now.getTime() - Date.parse(task.window.closes.likely);
  return since < (task.load === null ? PAST_DAY_MS : PAST_HAND_MS);
}

/** Sorts work by what to do first: running out, then open, then just missed, then what comes next, then what can wait. */
export function byUrgency(now: Date): (a: Task, b: Task) => number {
  return (a, b) => {
    const [groupA, timeA] = urgency(a, now);
    const [groupB, timeB] = urgency(b, now);
    return groupA - groupB || timeA - timeB || WORK_ORDER.indexOf(a.work) - WORK_ORDER.indexOf(b.work);
  };
}

const WORK_ORDER: readonly Work[] = ['edge', 'texture', 'saw', 'wash', 'colour', 'seal'];

function urgency(task: Task, now: Date): [group: number, time: number] {
  const end = timeLeft(now, task.window)?.by.getTime() ?? Infinity;
  const by = Math.min(end, (task.startBy ?? task.before)?.getTime() ?? Infinity);
  if (task.state === 'closing') return [0, by];
  if (task.state === 'past') return [2, -Date.parse(task.window.closes?.likely ?? '')];
  if (task.state === 'too_soft') return [3, Date.parse(task.window.opens.likely)];
  if (by - now.getTime() <= SOON_MS) return [1, by];
  return by === Infinity ? [4, Date.parse(task.window.opens.likely)] : [3, by];
}
