import { beforeEach, describe, expect, it } from 'vitest';
import { sayAge, sayLead } from '../../../pwa/src/page/now/say';
import { freshness, isAsking, readNow } from '../../../pwa/src/page/now/state';
import { sawWindow } from '../../../pwa/src/page/now/saw-window';
import { byUrgency, tasksOf } from '../../../pwa/src/page/now/tasks';
import { language } from '../../../pwa/src/page/shell/preferences';
import type { JobView } from '../../../pwa/src/shared/job';
import { at, bay, begun, closedByHandbook, iso, job, jobOutlook, load, loadTimeline, mark, order, outlook, reminder, when } from './sample';

const two = [loadTimeline('a'), loadTimeline('b', 0.75)];
const poured = (over: Record<string, unknown> = {}) =>
  job('Oak Lane', { phase: 'pour', loads: [load('a', 1), load('b', 2)], ...over });
const works = (view: JobView, hours: number, loads = two, reminders: Parameters<typeof tasksOf>[2] = []) =>
  tasksOf(view, jobOutlook(loads), reminders, at(hours))
    .sort(byUrgency(at(hours)))
    .map((task) => `${task.work}${task.load ?? task.coat ?? ''} ${task.state}`);
const first = (view: JobView, hours: number): string => {
  const task = tasksOf(view, jobOutlook(two), [], at(hours)).sort(byUrgency(at(hours)))[0];
  const lead = task && sayLead(task, at(hours));
  return lead ? `${lead.head} ${lead.tail}`.replaceAll('\u00a0', ' ') : '';
};

beforeEach(() => {
  language.value = 'en';
});

describe('what is waiting', () => {
  it('puts what runs out first, then what is open, then what comes next', () => {
    expect(works(poured(), 3.3)).toEqual([
      'edge1 closing', 'texture1 closing', 'edge2 ready', 'texture2 ready', 'saw too_soft',
    ]);
  });

  it('is nothing before a load is logged, nor after the job is closed', () => {
    expect(works(job('Oak Lane', { phase: 'ready', order: order(0) }), 3)).toEqual([]);
    expect(works(poured({ closed: { outcome: null } }), 3)).toEqual([]);
  });

  it('leaves out the hand work of a load once all its bays have been textured', () => {
    const bays = [bay('1', 'a', { texture: mark }), bay('2', 'a', { texture: mark }), bay('3', 'b', { texture: begun })];
    expect(works(poured({ bays }), 3.3)).toEqual(['texture2 ready', 'saw too_soft']);
  });

  it('keeps asking for texture while one bay of the load is not done', () => {
    const bays = [bay('1', 'a', { texture: mark }), bay('2', 'a')];
    expect(works(poured({ bays }), 3.3)).toContain('texture1 closing');
  });

  it('takes texturing as done with what comes after it: a touch-up of the bays, a test cut of the load', () => {
    const bays = [bay('1', 'a', { touch_up: begun }), bay('2', 'b')];
    expect(works(poured({ bays }), 3.3)).toEqual(['edge2 ready', 'texture2 ready', 'saw too_soft']);
    const cut = (over: object) => poured({ bays: [bay('1', 'a'), bay('2', 'b')], test_cuts: [{ load: null, bay: null, ...over }] });
    expect(works(cut({ load: 'a' }), 3.3)).toEqual(['edge2 ready', 'texture2 ready', 'saw too_soft']);
    expect(works(cut({ bay: '1' }), 3.3)).toEqual(['edge2 ready', 'texture2 ready', 'saw too_soft']);
    expect(works(cut({}), 3.3)).toEqual(['saw too_soft']);
  });

  it('drops hand work in the next days and the saw when the cuts are done', () => {
    expect(works(poured({ phase: 'next_days' }), 11)).toEqual(['saw ready']);
    expect(works(poured({ phase: 'next_days', cuts_done: true }), 11)).toEqual([]);
  });

  it('does what can be done now before what was missed a moment ago', () => {
    const order_ = works(poured(), 4);
    expect(order_.indexOf('texture2 ready')).toBeLessThan(order_.indexOf('texture1 past'));
  });

  it('stops saying that hand work was missed after six hours', () => {
    expect(works(poured(), 9.8)).toContain('texture1 past');
    expect(works(poured(), 9.9)).not.toContain('texture1 past');
  });

  it('takes washing and sealing from the reminders, once each, until they are logged', () => {
    const told = [
      reminder('Oak Lane', 'wash', { stage: 'heads_up' }), reminder('Oak Lane', 'wash'),
      reminder('Oak Lane', 'seal', { subject: 'coat-2' }), reminder('Other', 'wash'),
      reminder('Oak Lane', 'colour', { state: 'cancelled' }),
    ];
    const later = poured({ phase: 'next_days', cuts_done: true });
    expect(works(later, 27, two, told)).toEqual(['wash ready', 'seal2 ready']);
    expect(works({ ...later, washes: [{}], coats: [{ coat: 1 }] } as unknown as JobView, 27, two, told)).toEqual(['seal2 ready']);
  });

  it('saws a slab of several loads from the first to open to the first to close', () => {
    expect(sawWindow(poured(), jobOutlook(two).timeline)).toEqual(two[0]?.windows.saw);
    expect(sawWindow(poured(), jobOutlook([{ ...loadTimeline('a'), windows: { saw: null } }]).timeline)).toBeNull();
  });

  it('counts the saw as closing and past by the handbooks where they end it first', () => {
    const cooled = [closedByHandbook(loadTimeline('a'), 15), loadTimeline('b', 0.75)];
    const later = poured({ phase: 'next_days' });
    expect([11, 14.2, 15].map((hours) => works(later, hours, cooled))).toEqual([['saw ready'], ['saw closing'], ['saw past']]);
    expect([11, 14.2, 15].map((hours) => works(later, hours))).toEqual([['saw ready'], ['saw ready'], ['saw closing']]);
  });

  it('saws by practice where no times could be worked out, or only those of the plan; not where they have not come yet', () => {
    const none = jobOutlook([], { timeline: null });
    const planned = jobOutlook(two, { planned: true });
    const later = poured({ phase: 'next_days', loads: [{ ...load('a', 1), placed: { to: iso(1) } }, load('b', 2)] });
    expect(tasksOf(later, undefined, [], at(5))).toEqual([]);
    for (const look of [none, planned])
      expect(tasksOf(later, look, [], at(5)).map(({ work, window }) => [work, window.opens.early, window.closes?.late])).toEqual([['saw', iso(4), iso(12)]]);
  });
});

describe('the first line', () => {
  it('says what to do, by when, and what is left', () => {
    expect(first(poured(), 3)).toBe('Edge load 1 by 10:24 am. 24 min left.');
    expect(first(poured({ phase: 'next_days' }), 15.25)).toBe('Saw by 11:00 pm. 45 min left.');
  });

  it('names the handbooks’ end of the saw where it is sooner, as the board and the reminders do', () => {
    const later = poured({ phase: 'next_days' });
    const line = (hours: number): string => {
      const [task] = tasksOf(later, jobOutlook([loadTimeline('b', 0.75), closedByHandbook(loadTimeline('a'), 15)]), [], at(hours));
      return task ? sayLead(task, at(hours)).head.replaceAll('\u00a0', ' ') : '';
    };
    expect(line(13)).toBe('Saw by 10:00 pm.');
    expect(line(15.5)).toBe('Past the saw window.');
    expect(first(later, 13)).toMatch(/^Saw by 11:00 pm\./);
  });

  it('says why to wait and for how long', () => {
    expect(first(poured(), 1)).toBe('Load 1: too soft to edge. Ready about 9:12 am, in 1 h 12 min.');
  });

  it('names the day when the time is not today', () => {
    expect(first(poured({ phase: 'next_days' }), -20)).toMatch(/^Too soft to saw\. Ready about Tue 5:30 pm/);
  });

  it('stops promising time once the window may have closed', () => {
    expect(first(poured(), 3.6)).toBe('Edge load 1 now. It may close any time. Likely end 10:54 am, in 18 min.');
  });

  it('says what to do about a saw window that is past', () => {
    expect(first(poured({ phase: 'next_days' }), 19.5)).toBe(
      'Past the saw window. It closed about 2:00 am. Look for cracks before you cut. If it is cut, log it.',
    );
  });

  it('speaks Spanish to whoever chose it', () => {
    language.value = 'es';
    expect(first(poured(), 3)).toBe('Orillar la carga 1 a más tardar 10:24 am. Quedan 24 min.');
  });
});

describe('the screen', () => {
  const other = job('Pine Court', { phase: 'next_days', loads: [load('c', 1)] });
  const look = outlook({ 'Oak Lane': jobOutlook(two), 'Pine Court': jobOutlook([loadTimeline('c', -15)]) });

  it('leads with the most urgent work over all jobs and lists what follows', () => {
    const view = readNow([poured(), other], look, at(3.1));
    expect(view.lead?.job.name).toBe('Pine Court');
    expect(view.lead?.work).toBe('saw');
    expect(view.next.map((task) => task.work)).toEqual(['edge', 'texture', 'edge']);
    expect(view.poured.map((card) => card.job.name)).toEqual(['Pine Court', 'Oak Lane']);
  });

  it('keeps a poured job in sight when no times have been worked out for it', () => {
    const view = readNow([poured()], null, at(3));
    expect(view.lead).toBeNull();
    expect(view.poured[0]?.look).toBeNull();
  });

  it('orders pours ahead by time and keeps jobs without an order apart', () => {
    const view = readNow([job('Late', { order: order(50) }), job('Soon', { order: order(20) }), job('Drawn')], null, at(0));
    expect(view.coming.map((one) => one.name)).toEqual(['Soon', 'Late']);
    expect(view.laying.map((one) => one.name)).toEqual(['Drawn']);
  });

  it('shows no closed job', () => {
    const closed = poured({ closed: { outcome: null } });
    expect(readNow([closed], look, at(3))).toMatchObject({ lead: null, poured: [], coming: [], laying: [] });
  });
});

describe('reminders that nobody has in hand', () => {
  const told = reminder('Oak Lane', 'saw');
  it('ask until acknowledged here or anywhere else, or until the work is done', () => {
    expect(isAsking(poured(), told, at(27))).toBe(true);
    expect(isAsking(poured({ acks: { [told.id]: {} } }), told, at(27))).toBe(false);
    expect(isAsking(poured(), { ...told, acknowledged: { by: 'Ana', at: iso(1), via: 'app' } }, at(27))).toBe(false);
    expect(isAsking(poured({ cuts_done: true }), told, at(27))).toBe(false);
  });

  it('ask no longer than they run, which for hand work is hours', () => {
    const texture = reminder('Oak Lane', 'texture', { subject: 'load-1', stage: 'missed', expires: iso(6.9) });
    expect([6, 6.9, 60].map((hours) => isAsking(poured(), texture, at(hours)))).toEqual([true, false, false]);
    expect([89, 90].map((hours) => isAsking(poured(), told, at(hours)))).toEqual([true, false]);
  });

  it('do not ask before they are told, nor for another job', () => {
    expect(isAsking(poured(), { ...told, state: 'planned' }, at(27))).toBe(false);
    expect(isAsking(job('Pine Court'), told, at(27))).toBe(false);
  });
});

describe('how old the times are', () => {
  const look = jobOutlook(two);
  it('counts as old after an hour while concrete sets, after eight later on', () => {
    expect(freshness(poured(), look, at(3.9)).old).toBe(false);
    expect(freshness(poured(), look, at(4))).toEqual({ minutes: 60, old: true });
    expect(freshness(poured({ phase: 'next_days' }), look, at(10.9)).old).toBe(false);
    expect(freshness(poured({ phase: 'next_days' }), look, at(11)).old).toBe(true);
  });

  it('never runs backward when the phone is behind', () => {
    expect(freshness(poured(), look, at(2)).minutes).toBe(0);
    expect(sayAge(look.computed_at, at(2))).toBe('just now');
    expect(sayAge(look.computed_at, at(3.2)).replace('\u00a0', ' ')).toBe('12 min ago');
  });
});

it('a window without an end is never more urgent than one that closes', () => {
  const endless = { opens: when(0, 0, 0), closes: null };
  const told = [reminder('Oak Lane', 'wash', { ...endless })];
  expect(works(poured(), 3, two, told).at(-1)).toBe('wash ready');
});
