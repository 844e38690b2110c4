import { describe, expect, test } from 'vitest';
import type { Outlook } from '../../../pwa/src/page/sync/contract';
import { withWorked, type WorkedHere } from '../../../pwa/src/page/sync/worked';
import { iso, jobOutlook, loadTimeline, outlook, reminder } from '../look/sample';

const theirs = (hours: number): Outlook =>
  outlook(
    { Oak: jobOutlook([loadTimeline('a')], { computed_at: iso(hours) }), Pine: jobOutlook([loadTimeline('b')], { computed_at: iso(hours) }) },
    [reminder('Oak', 'saw', { id: 'server' }), reminder('Pine', 'saw', { id: 'pine' })],
  );

const mine = (hours: number, over: Partial<WorkedHere> = {}): WorkedHere => ({
  ...jobOutlook([loadTimeline('a', 1)], { computed_at: iso(hours) }),
  worked_here: true, company: theirs(0).company.id, worked_at: iso(hours), recompute_after: null, rests_on: '',
  reminders: [reminder('Oak', 'saw', { id: 'own' })], ...over,
});

const said = (found: Outlook | null): unknown => [found?.jobs['Oak']?.worked_here ?? false, found?.reminders.map(({ id }) => id).sort()];

describe('the times to go by', () => {
  test('are the phone’s own when they are newer, with its own reminders, and only for that job', () => {
    const found = withWorked(theirs(2), { Oak: mine(3) }, false);
    expect(said(found)).toEqual([true, ['own', 'pine']]);
    expect(found?.jobs['Pine']).toEqual(theirs(2).jobs['Pine']);
  });

  test('are the server’s when those are newer', () => {
    expect(said(withWorked(theirs(4), { Oak: mine(3) }, false))).toEqual([false, ['pine', 'server']]);
  });

  test('stay the phone’s while it has unsent work, but not for long', () => {
    expect(said(withWorked(theirs(3.1), { Oak: mine(3) }, true))).toEqual([true, ['own', 'pine']]);
    expect(said(withWorked(theirs(3.5), { Oak: mine(3) }, true))).toEqual([false, ['pine', 'server']]);
  });

  test('count by when they were worked out, also where older ones had to stay', () => {
    expect(said(withWorked(theirs(2), { Oak: mine(3, { computed_at: iso(1) }) }, false))).toEqual([true, ['own', 'pine']]);
  });

  test('of a job the server has not heard of are there too', () => {
    expect(withWorked(theirs(2), { Elm: mine(3) }, true)?.jobs['Elm']?.worked_here).toBe(true);
  });

  test('of a job the server left out count while they are newer than its word', () => {
    const few = { ...theirs(2), carried: ['Oak', 'Pine'], left_out: 7 }; // told at 3
    expect(withWorked(few, { Elm: mine(4) }, false)?.jobs['Elm']?.worked_here).toBe(true);
    expect(withWorked(few, { Elm: mine(2) }, false)).toEqual(few);
    expect(withWorked({ ...few, carried: [...few.carried, 'Elm'] }, { Elm: mine(2) }, false)?.jobs['Elm']?.worked_here).toBe(true);
  });

  test('of another company are nobody’s business', () => {
    expect(withWorked(theirs(2), { Oak: mine(3, { company: 'other' }) }, true)).toEqual(theirs(2));
  });

  test('without an outlook there are none', () => {
    expect(withWorked(null, { Oak: mine(3) }, true)).toBeNull();
  });
});
