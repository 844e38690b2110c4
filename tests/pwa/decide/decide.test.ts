import { describe, expect, it, vi } from 'vitest';
import type { JobView } from '../../../pwa/src/shared/job';
import { askBoth } from '../../../pwa/src/page/decide/ask';
import type { Pace, WhatIf } from '../../../pwa/src/page/decide/contract';
import { latestLesson, oddChecks } from '../../../pwa/src/page/decide/learned';
import { sayClose } from '../../../pwa/src/page/decide/lesson';
import { asItStands, changesOf } from '../../../pwa/src/page/decide/levers';
import { orderChanges } from '../../../pwa/src/page/decide/order-changes';
import { sayOdds } from '../../../pwa/src/page/decide/odds';
import { paceView } from '../../../pwa/src/page/decide/pace';
import { CallFailed } from '../../../pwa/src/page/sync/call';
import type { Timeline } from '../../../pwa/src/page/sync/contract';

const when = (likely: string, early = likely, late = likely) => ({ early, likely, late });
const iso = (time: string) => `2026-07-14T${time}:00Z`;
const change = (name: string, after: number) => ({ change: name, amount: 1, unit: 'people', chance_to_miss_after: after, slack_minutes_gained: 12 });
const pace = {
  start: { ready_at: iso('12:00'), opens: when(iso('12:00')), by: when(iso('12:30'), iso('12:10')) },
  loads: [
    { id: 'a', reached: when(iso('12:00')), finished: when(iso('12:40')), closes: when(iso('13:10')), slack_minutes: { early: 10, likely: 30, late: 40 }, chance_to_miss: 0 },
    { id: 'b', reached: when(iso('12:40')), finished: when(iso('13:10')), closes: when(iso('13:45')), slack_minutes: { early: -5, likely: 35, late: 50 }, chance_to_miss: 0.3 },
  ],
  chance_to_miss: 0.3,
  slack_minutes: { early: -5, likely: 30, late: 40 },
  where: { begun: false, load: null, done_m2: 0, left_m2: 40, planned_m2: 0, behind_minutes: 0, speed: 1, timed_minutes: 0 },
  release: { load: 'a', lasts_minutes: 25, ahead_m2: 14 },
  calls: [],
  limiting: 'b',
  changes: [change('one_more_hand', 0.1), change('start_earlier', 0.29), change('another_set_of_mats', 0.05)],
} as unknown as Pace;
const timeline = { pace, loads: [] } as unknown as Timeline;
const job = { bays: [{ steps: {} }], loads: [{ id: 'a' }], unticketed: [] } as unknown as JobView;

describe('odds as people say them', () => {
  it.each([[0.01, 'less than 1 in 20'], [0.31, '1 in 3'], [0.5, '1 in 2'], [0.12, '1 in 10'], [0.97, 'more than 19 in 20']])('%f is %s', (chance, said) => {
    expect(sayOdds(chance)).toBe(said);
  });
});

describe('the race on a screen', () => {
  it('gives the start that is safe nine times in ten, and what is in hand at the last load', () => {
    expect(paceView(job, timeline, new Date(iso('11:00')))).toMatchObject({ startBy: iso('12:10'), spare: 30, tightest: 'a', here: null });
  });

  it('says where the crew should be', () => {
    expect(paceView(job, timeline, new Date(iso('12:50')))?.here).toBe('b');
  });

  it.each([['long before', iso('07:00')], ['an hour after the last close', iso('14:50')]])('is quiet %s', (_, at) => {
    expect(paceView(job, timeline, new Date(at))).toBeNull();
  });

  it('is over when every bay is textured', () => {
    const done = { ...job, bays: [{ steps: { texture: { end: { at: iso('13:00') } } } }] } as unknown as JobView;
    expect(paceView(done, timeline, new Date(iso('13:00')))).toBeNull();
  });

  it('names what helps, the best first', () => {
    expect(paceView(job, timeline, new Date(iso('11:00')))?.helps.map((one) => one.change)).toEqual(['another_set_of_mats', 'one_more_hand', 'start_earlier']);
  });

  it('takes off what passes unused, and says that no bay is marked', () => {
    expect(paceView(job, timeline, new Date(iso('12:20')))).toMatchObject({ begun: false, unmarked: 20, spare: 10 });
  });

  it('says where the crew is, how far off the plan, and at what pace', () => {
    const on = { ...job, bays: [{ label: 'B2', steps: { texture: { start: { at: iso('12:00') } } } }] } as unknown as JobView;
    const where = { ...pace.where, begun: true, load: 'a', behind_minutes: 18, speed: 0.8, timed_minutes: 40 };
    const going = { pace: { ...pace, where }, loads: [] } as unknown as Timeline;
    expect(paceView(on, going, new Date(iso('12:20')))).toMatchObject({ begun: true, unmarked: null, on: ['B2'], behind: 18, speed: 0.8, spare: 30 });
  });

  it('tells of release that has lain longer than it lasts, and of no other', () => {
    const laid = (label: string, at: string) => ({ label, steps: {}, release_at: iso(at) });
    const bays = { ...job, bays: [laid('B1', '11:40'), laid('B2', '12:05')] } as unknown as JobView;
    expect(paceView(bays, timeline, new Date(iso('12:10')))?.dried).toEqual([{ bay: 'B1', minutes: 30 }]);
  });

  it('tells nothing of powder, which does not dry, nor how far ahead to lay it', () => {
    const laid = (label: string, release: object | null) => ({ label, steps: {}, release_at: iso('11:40'), release });
    const of = (...bays: object[]) => paceView({ ...job, bays } as unknown as JobView, timeline, new Date(iso('12:10')));
    expect(of(laid('B1', { what: 'powder', mass_kg: null }), laid('B2', null))).toMatchObject({ dried: [], releaseMatters: false });
    expect(of(laid('B1', { what: null, mass_kg: 5 }))).toMatchObject({ dried: [], releaseMatters: false });
    expect(of(laid('B1', { what: 'liquid', mass_kg: null }), laid('B2', null))?.dried).toHaveLength(2);
    expect(of(laid('B1', { what: 'liquid', mass_kg: null }))?.releaseMatters).toBe(true);
  });

  it('is no race where an older answer does not know where the crew is', () => {
    const { where: _, ...old } = pace;
    expect(paceView(job, { pace: old, loads: [] } as unknown as Timeline, new Date(iso('11:00')))).toBeNull();
  });
});

describe('what checks taught', () => {
  const check = { event: 'e1', load: 'a', kind: 'footprint', at: '2026-07-14T12:00:00.400Z' };
  const learned = { from_checks: 1, changes: [{ load: 'a', at: iso('12:00'), kind: 'footprint', percent_faster: 18, texture_closes_was: iso('13:50'), texture_closes_now: iso('13:25') }], contradictory: [{ load: 'a', at: iso('12:00'), kind: 'footprint' }] };
  const taught = { loads: [{ id: 'a', learned }] } as unknown as Timeline;

  it('finds the check behind the newest change, so that it can be taken back', () => {
    expect(latestLesson({ checks: [check] } as never, taught)).toMatchObject({ check: { event: 'e1' }, change: { percent_faster: 18 } });
  });

  it('says nothing of a check that the times do not know yet', () => {
    expect(latestLesson({ checks: [check, { ...check, event: 'e2', at: iso('12:05') }] } as never, taught)).toBeNull();
  });

  it('says of a window that a check ended sooner that it closed early, and when', () => {
    const job = { opened: { time_zone: 'UTC' }, loads: [{ id: 'a', number: 1 }] } as unknown as JobView;
    const said = (time: string): string => sayClose({ check, change: learned.changes[0]! } as never, job, new Date(iso(time))).replaceAll('\u00a0', ' ');
    expect(said('13:24')).toBe('Texture of load 1 closes 1:25 pm, was 1:50 pm.');
    expect(said('13:25')).toBe('Texture of load 1 closed early, about 1:25 pm. Expected 1:50 pm.');
    expect(said('13:50')).toBe('Texture of load 1 closed about 1:25 pm.');
  });

  it('flags only checks that still stand', () => {
    expect(oddChecks({ checks: [] } as never, taught)).toEqual([]);
    expect(oddChecks({ checks: [check] } as never, taught)).toHaveLength(1);
  });
});

describe('levers of a what-if', () => {
  const load = { id: '1', number: 1, batched: true, placed: true, area_m2: 26, concrete_temp_c: 24, placed_from: iso('12:00') };
  const base = { problem: null, assumptions: [], answer: null, crew: { people: 4, mats: 8 }, thickness_m: 0.1, most_ice_kg_m3: 80, loads: [load, { ...load, id: '2', number: 2, batched: false, placed: false }] } satisfies WhatIf;
  const untouched = asItStands(base);

  it('asks for no change while all stands as it is', () => {
    expect(changesOf(untouched, base)).toEqual([]);
  });

  it('leaves concrete alone that is on the road or placed', () => {
    const tried = { ...untouched, retarder: { 1: 0.5, 2: 0.5 }, more_m3: { 1: 1, 2: -1 } };
    expect(changesOf(tried, base)).toEqual([{ change: 'retarder', load: '2', type: 'D', dose: 0.5 }, { change: 'area', load: '2', area_m2: 16 }]);
  });

  it('chills water before it adds ice', () => {
    expect(changesOf({ ...untouched, cool: 1 }, base)).toEqual([{ change: 'cool', load: null, water_temp_c: 4 }]);
    expect(changesOf({ ...untouched, cool: 3 }, base)).toEqual([{ change: 'cool', load: null, water_temp_c: 4, ice_kg_m3: 40 }]);
  });
});

describe('what to change in the order', () => {
  const load = { id: '1', number: 1, batched: true, placed: true, area_m2: 20, concrete_temp_c: 24, placed_from: iso('12:00') };
  const base = { problem: null, assumptions: [], answer: null, crew: { people: 4, mats: 8 }, thickness_m: 0.1, most_ice_kg_m3: 80, loads: [load, { ...load, id: '2', number: 2, batched: false, placed: false, placed_from: iso('12:45') }] } satisfies WhatIf;
  const untouched = asItStands(base);
  const order = { order: { volume_m3: 4.2 } } as Pick<JobView, 'order'>;
  const asked = (part: Partial<typeof untouched>) => orderChanges({ ...untouched, ...part }, base, order, null);

  it('is nothing while all stands as it is', () => {
    expect(asked({})).toEqual([]);
  });

  it('names the new time of the first truck still to come', () => {
    expect(asked({ shift_minutes: -30 })).toEqual([{ what: 'start', time: '2026-07-14T12:15:00.000Z', was: '2026-07-14T12:45:00.000Z' }]);
  });

  it('names the load’s volume and that of the whole order', () => {
    expect(asked({ more_m3: { 2: -0.5 } })).toEqual([{ what: 'volume', load: 2, volume_m3: 1.5, was_m3: 2 }, { what: 'total', volume_m3: 3.7, was_m3: 4.2 }]);
  });

  it('asks the plant for retarder and ice, and nothing of a load that is placed', () => {
    expect(asked({ retarder: { 1: 0.5, 2: 0.5 }, cool: 2 })).toEqual([{ what: 'retarder', load: 2, share: 0.5 }, { what: 'ice', ice_kg_m3: 20, temp_c: null }]);
  });

  it('tells a change of crew apart from the order', () => {
    expect(asked({ people: 5 })).toEqual([{ what: 'crew', people: 5, mats: 8 }]);
  });
});

describe('who is asked', () => {
  const fine = { problem: null };
  const noSignal = () => Promise.reject(new CallFailed({ code: 'no_answer', message: '', do: '' }, 0));

  it('the phone first, and the server not at all where that answers', async () => {
    const server = vi.fn();
    expect(await askBoth({ phone: () => Promise.resolve(fine), server })).toEqual({ at: 'told', answer: fine, by: 'phone' });
    expect(server).not.toHaveBeenCalled();
  });

  it('the server where the phone has no weather, and the phone again without a signal', async () => {
    const short = { problem: { code: 'weather_missing', message: '', do: '' } };
    const phone = () => Promise.resolve(short);
    expect(await askBoth({ phone, server: () => Promise.resolve(fine) })).toMatchObject({ by: 'server' });
    expect(await askBoth({ phone, server: noSignal })).toEqual({ at: 'told', answer: short, by: 'phone' });
  });

  it('nobody: says what is missing', async () => {
    expect(await askBoth({ phone: null, server: noSignal })).toEqual({ at: 'missing' });
  });
});
