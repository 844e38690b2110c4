import { beforeEach, describe, expect, it } from 'vitest';
import { nextStep, type StepPlace } from '../../../pwa/src/page/now/step';
import { sayLead } from '../../../pwa/src/page/now/say';
import { tasksOf } from '../../../pwa/src/page/now/tasks';
import { language } from '../../../pwa/src/page/shell/preferences';
import type { JobView } from '../../../pwa/src/shared/job';
import { at, bay, begun, iso, job, jobOutlook, load, loadTimeline, mark, order, reminder, when } from './sample';

const two = [loadTimeline('a'), loadTimeline('b', 0.75)];
/** Load a takes 30 min and closes from 3.4 h on, load b takes 45 min and closes from 4.15 h on. */
const pace = {
  start: { ready_at: iso(2.5), opens: when(2.1, 2.5, 2.9), by: when(2.75, 2.9, 3) },
  loads: [
    { id: 'a', reached: when(2.5, 2.5, 2.5), finished: when(3, 3, 3), closes: when(3.4, 3.9, 4.5), slack_minutes: {}, chance_to_miss: 0 },
    { id: 'b', reached: when(3.2, 3.2, 3.2), finished: when(3.95, 3.95, 3.95), closes: when(4.15, 4.65, 5.25), slack_minutes: {}, chance_to_miss: 0 },
  ],
  where: {}, chance_to_miss: 0, limiting: 'b', changes: [],
};
const bays = [bay('A', 'a', { edge: mark }), bay('B', 'b', { edge: mark })];
const poured = (over: Record<string, unknown> = {}) => job('Oak Lane', { phase: 'texture', loads: [load('a', 1), load('b', 2)], bays, ...over });
const look = (more: Record<string, unknown> = {}) => {
  const plain = jobOutlook(two);
  return { ...plain, timeline: plain.timeline && { ...plain.timeline, pace, ...more } } as typeof plain;
};
const first = (place: StepPlace, view: JobView, hours: number, of: ReturnType<typeof look> | undefined = look(), told: Parameters<typeof tasksOf>[2] = []): string => {
  const { head, tail } = nextStep(place, view, of, told, at(hours));
  return `${head} ${tail}`.trim().replaceAll('\u00a0', ' ');
};

beforeEach(() => {
  language.value = 'en';
});

describe('texture', () => {
  it('starts mats so early that the crew is done with all loads before they close', () => {
    expect(first('texture', poured(), 2.55)).toBe('Start mats on bay A by 9:45 am. 12 min left.');
  });

  it('once begun, leaves the second bay its own time only', () => {
    const on = poured({ bays: [bay('A', 'a', { edge: mark, texture: mark }), bays[1]] });
    // closes from 11:09 am, takes 45 min
    expect(first('texture', on, 3.3)).toBe('Start mats on bay B by 10:24 am. 6 min left.');
  });

  it('says now when the start is past but the window is not, with what is left of it', () => {
    expect(first('texture', poured(), 3)).toBe('Start mats on bay A now. It takes longer than is left. It closes from 10:24 am on, in 24 min.');
  });

  it('works to the close where no pace is known, and on what is begun', () => {
    expect(first('texture', poured(), 3, look({ pace: null }))).toBe('Texture bay A by 10:24 am. 24 min left.');
    const on = poured({ bays: [bay('A', 'a', { edge: mark, texture: begun }), bays[1]] });
    expect(first('texture', on, 2.9)).toBe('Finish the mats on bay A by 10:24 am. 30 min left.');
  });

  it('edges before it lays mats, however late it is for the mats', () => {
    const raw = poured({ bays: [bay('A', 'a'), bay('B', 'b')] });
    expect(first('texture', raw, 2.55)).toBe('Edge bay A by 10:24 am. 51 min left.');
    expect(first('texture', raw, 3)).toBe('Edge bay A by 10:24 am. 24 min left.');
  });

  it('says why to wait', () => {
    expect(first('texture', poured(), 2)).toBe('Bay A: too soft to texture. Ready about 9:30 am, in 30 min.');
  });

  it('goes on to the saw when all is textured', () => {
    const done = poured({ phase: 'next_days', bays: bays.map((one) => ({ ...one, steps: { texture: mark } })) });
    expect(first('texture', done, 11)).toMatch(/^Saw by /);
  });

  it('sends to the surface where no times are worked out', () => {
    expect(first('texture', poured(), 3, { ...look(), timeline: null })).toBe('Check the surface now. No times are here yet. Go by footprint and thumb.');
    expect(nextStep('texture', poured(), undefined, [], at(3)).head).toBe('Check the surface now.');
  });

  it('says about when mats will come before the first ticket', () => {
    expect(first('texture', job('Oak Lane', { order: order(0) }), -2)).toBe('Mats from about 9:30 am. Planned: the clock starts with the first ticket.');
  });

  it('speaks Spanish', () => {
    language.value = 'es';
    expect(first('texture', poured(), 2.55)).toBe('Empezar moldes en el paño A a más tardar 9:45 am. Quedan 12 min.');
  });
});

describe('ready', () => {
  it('gives the time first, then what is open', () => {
    expect(first('ready', job('Oak Lane', { order: order(1) }), 0)).toMatch(/^Be ready by 8:00 am\. \d+ items still open: Forms/);
  });
  it('asks for the order, or for the ticket that did not come', () => {
    expect(first('ready', job('Oak Lane'), 0)).toMatch(/^Order first/);
    expect(first('ready', job('Oak Lane', { order: order(-1) }), 0)).toMatch(/^The first truck was due 6:00 am\./);
  });
});

describe('the next days', () => {
  it('put the saw before hand work, and washing when the saw is done', () => {
    expect(first('next_days', poured(), 3)).toMatch(/^Too soft to saw\./);
    expect(first('next_days', poured({ phase: 'next_days', cuts_done: true }), 27, look(), [reminder('Oak Lane', 'wash')])).toMatch(/^Wash when the weather suits\./);
  });
  it('put the saw by practice first where no times could be worked out', () => {
    expect(first('next_days', poured({ phase: 'next_days' }), 5, { ...look(), timeline: null })).toBe('Saw by 7:00 pm. 7 h left.');
  });
  it('say that the times are not here where they are not, and nothing of a slab that is done', () => {
    const step = (over: object) => nextStep('next_days', poured({ phase: 'next_days', ...over }), undefined, [], at(5)).head;
    expect(step({})).toBe('No times yet for this job');
    expect(step({ cuts_done: true })).toBe('Nothing is waiting on this slab.');
  });
  it('say so when nothing is left', () => {
    expect(first('next_days', poured({ phase: 'next_days', cuts_done: true }), 40)).toBe('Nothing is waiting on this slab.');
  });
});

it('every screen says the same as the first screen does of the same work', () => {
  const [task] = tasksOf(poured(), look(), [], at(2.55)).filter(({ work }) => work === 'texture');
  const said = task && sayLead(task, at(2.55));
  expect(`${said?.head} ${said?.tail}`.replaceAll('\u00a0', ' ')).toBe(first('texture', poured(), 2.55));
});
