import { describe, expect, it } from 'vitest';
import {
  checklistSum, countStandings, FIRST_CHOICE, pickJobs, plainText, slackMinutes, sortBy, standing, type BoardChoice,
} from '../../../pwa/src/page/office/state';
import { sayNext, sayStanding } from '../../../pwa/src/page/office/say';
import type { BoardJob } from '../../../pwa/src/page/sync/contract';
import type { JobId } from '../../../pwa/src/shared/events';
import { at, iso, when } from './sample';

const row = (name: string, over: Partial<BoardJob> = {}): BoardJob => ({
  job: name as JobId, name, place: null, phase: 'next_days', use: 'patio', pour_at: null, volume_ordered_m3: null,
  volume_placed_m3: 0, loads_placed: 0, loads_ordered: null, next: null, last_ack: null, last_heard_at: null,
  last_heard_from: null, unsent: 0, oldest_unsent_at: null, open_pins: 0, checklists: {}, problem: null, ...over,
});
type Next = NonNullable<BoardJob['next']>;
const next = (closes: number | null, over: Partial<Next> = {}): Next => ({
  reminder: 'r', what: 'saw', stage: 'open', due: iso(1), closes: closes === null ? null : when(closes, closes + 1, closes + 2),
  slack_min: null, state: 'acknowledged', ...over,
});
const names = (jobs: readonly BoardJob[], choice: Partial<BoardChoice> = {}, hours = 2) =>
  pickJobs(jobs, { ...FIRST_CHOICE, ...choice }, at(hours)).map((job) => job.name);

describe('how a job stands', () => {
  const stand = (over: Partial<BoardJob>, hours = 2) => standing(row('a', over), at(hours));

  it('is late from the minute its window may have closed with the work undone', () => {
    expect(stand({ next: next(4) }, 4)).toBe('watch');
    expect(stand({ next: next(4) }, 4.01)).toBe('late');
    expect(stand({ next: next(null, { stage: 'missed' }) })).toBe('late');
  });

  it('wants watching when little is left, when nobody has it, when it was not delivered, when something is wrong', () => {
    expect(stand({ next: next(3.4) })).toBe('watch');
    expect(stand({ next: next(9, { state: 'sent' }) })).toBe('watch');
    expect(stand({ next: next(9, { state: 'failed', due: iso(8) }) })).toBe('watch');
    expect(stand({ problem: { code: 'x', message: 'x', do: 'x' } })).toBe('watch');
  });

  it('wants watching when a phone has held entries for more than four hours, not for less', () => {
    expect(stand({ unsent: 3, oldest_unsent_at: iso(-2.1) })).toBe('watch');
    expect(stand({ unsent: 3, oldest_unsent_at: iso(-2) })).toBe('steady');
    expect(stand({ unsent: 0, oldest_unsent_at: iso(-9) })).toBe('steady');
  });

  it('is steady while the work is in hand with time left, or not yet due', () => {
    expect(stand({ next: next(9) })).toBe('steady');
    expect(stand({ next: next(9, { state: 'planned', due: iso(5) }) })).toBe('steady');
    expect(stand({})).toBe('steady');
  });

  it('counts its slack down between two answers of the server', () => {
    const job = row('a', { next: next(4, { slack_min: 120 }) });
    expect([slackMinutes(job, at(2)), slackMinutes(job, at(3)), slackMinutes(job, at(4.5))]).toEqual([120, 60, -30]);
    expect(slackMinutes(row('b'), at(2))).toBeNull();
  });
});

describe('what the board says', () => {
  const told = (hours: number, over: Partial<Next> = {}) => {
    const job = row('a', { next: next(4, over) });
    return [sayStanding(job, at(hours)), sayNext(job, at(hours))?.head, sayNext(job, at(hours))?.slack].map((text) => text?.replaceAll('\u00a0', ' '));
  };

  it('is what the phone says of the same window: time left, then any time, then closed', () => {
    expect(told(2)[0]).toBe('on time');
    expect(told(2)[2]).toBe('2 h left.');
    expect(told(4 - 0.5 / 60)[2]).toBe('under 1 min left.');
    expect(told(4.5)[0]).toBe('may close any time');
    expect(told(4.5)[1]).toBe('Saw now.');
    expect(told(4.5)[2]).toMatch(/^may close any time, likely .+, in 30 min$/);
    expect(told(5)[0]).toBe('past');
    expect(told(5)[1]).toBe('Saw: past');
    expect(told(5)[2]).toMatch(/^Closed about /);
  });

  it('never speaks of no minutes, nor of minutes late', () => {
    for (let minute = 0; minute < 400; minute += 1) expect(told(1 + minute / 60).join(' ')).not.toMatch(/\b0 min|late/);
  });

  it('is past once it was told so, closing time or not', () => {
    expect(told(2, { stage: 'missed', due: iso(1.5) })[0]).toBe('past');
    expect(sayNext(row('b', { next: next(null, { stage: 'missed', due: iso(1) }) }), at(2))).toEqual({ head: 'Saw: past', slack: '' });
  });
});

describe('the order of the board', () => {
  const late = row('Late', { next: next(1) });
  const tight = row('Tight', { next: next(3) });
  const calm = row('Calm', { next: next(20) });
  const idle = row('Idle', { pour_at: iso(30) });
  const soon = row('Soon', { pour_at: iso(20) });

  it('is late first, then what wants watching, then by deadline, then by pour', () => {
    expect(names([idle, calm, soon, tight, late])).toEqual(['Late', 'Tight', 'Calm', 'Soon', 'Idle']);
  });

  it('turns round when its column is pressed again, and starts upright on another', () => {
    const again = sortBy(FIRST_CHOICE, 'urgent');
    expect(again).toMatchObject({ sort: 'urgent', down: true });
    expect(sortBy(again, 'name')).toMatchObject({ sort: 'name', down: false });
    expect(names([late, calm], again)).toEqual(['Calm', 'Late']);
  });

  it('goes by phase in the order of the trade, and by silence with the longest silent first', () => {
    const jobs = [row('R', { phase: 'record' }), row('L', { phase: 'layout' }), row('P', { phase: 'pour' })];
    expect(names(jobs, { sort: 'phase' })).toEqual(['L', 'P', 'R']);
    const heard = [row('New', { last_heard_at: iso(1) }), row('Old', { last_heard_at: iso(-5) })];
    expect(names(heard, { sort: 'heard' })).toEqual(['Old', 'New']);
  });

  it('does not change the list it was given', () => {
    const jobs = [calm, late];
    pickJobs(jobs, FIRST_CHOICE, at(2));
    expect(jobs).toEqual([calm, late]);
  });
});

describe('finding a job', () => {
  const jobs = [row('José’s patio', { place: 'Oak Lane' }), row('Pine Court', { phase: 'pour', last_heard_from: 'Ana' })];

  it('needs no accents and no capitals, and looks at place and person too', () => {
    expect(plainText('JOSÉ Ñ')).toBe('jose n');
    expect([names(jobs, { search: 'jose' }), names(jobs, { search: 'oak' }), names(jobs, { search: 'ana' })]).toEqual([
      ['José’s patio'], ['José’s patio'], ['Pine Court'],
    ]);
  });

  it('wants every word', () => {
    expect(names(jobs, { search: 'oak patio' })).toEqual(['José’s patio']);
    expect(names(jobs, { search: 'oak court' })).toEqual([]);
  });

  it('narrows to a phase, to what is late or watched, to what nobody has', () => {
    expect(names(jobs, { phase: 'pour' })).toEqual(['Pine Court']);
    const some = [row('Late', { next: next(1) }), row('Open', { next: next(9, { state: 'planned', due: iso(5) }) }), row('Idle')];
    expect(names(some, { show: 'late' })).toEqual(['Late']);
    expect(names(some, { show: 'open_hand' })).toEqual(['Open']);
  });
});

it('sums the checklists and counts how the jobs stand', () => {
  const job = row('a', { next: next(1), checklists: { forms: { done: 3, total: 11 }, slope: { done: 2, total: 5 } } });
  expect(checklistSum(job)).toEqual({ done: 5, total: 16 });
  expect(countStandings([job, row('b')], at(2))).toEqual({ late: 1, watch: 0, steady: 1 });
});
