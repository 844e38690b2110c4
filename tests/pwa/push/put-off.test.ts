// A reminder that someone put off, on this phone or another, is not raised before its time.
import { expect, test } from 'vitest';
import { dueReminders } from '../../../pwa/src/page/push/due';
import { putOff, putOffUntil } from '../../../pwa/src/page/sync/put-off';
import type { Reminder } from '../../../pwa/src/page/sync/contract';

const at = (clock: string): string => `2026-07-14T${clock}:00.000Z`;
const when = (likely: string): Reminder['opens'] => ({ early: at(likely), likely: at(likely), late: at(likely) });
const both = { en: 'Saw', es: 'Corte' };

function reminder(stage: Reminder['stage'], due: string): Reminder {
  return {
    id: `r-${stage}`, job: 'j' as Reminder['job'], what: 'saw', subject: '', stage, due: at(due), opens: when('18:00'), closes: when('21:00'),
    expires: at('23:30'), state: 'due', moved_from: null, acknowledged: null, title: both, words: both,
  };
}

/** A minute after it came. */
const snoozed = ({ id, due }: Reminder, until: string, author = 'ana') => ({ [id]: { event: 'e', at: new Date(Date.parse(due) + 60_000).toISOString(), author, by: author, reminder: id, until: at(until) } });

function raised(one: Reminder, until: string | null, now: string, author?: string): string[] {
  const job = { snoozes: until ? snoozed(one, until, author) : {} } as unknown as Parameters<typeof putOff>[1];
  const moment = new Date(at(now));
  return dueReminders([one], new Set(), moment, (each) => putOff(each, job, moment, []) !== null).map(({ id }) => id);
}

test.each(['ana', 'ben'])('an opening that %s put off waits for its time, and comes then', (author) => {
  const one = reminder('open', '18:00');
  expect(raised(one, null, '18:05')).toEqual([one.id]);
  expect(raised(one, '18:30', '18:29', author)).toEqual([]);
  expect(raised(one, '18:30', '18:30', author)).toEqual([one.id]);
});

test('a heads-up is held no longer than it is true', () => {
  const one = reminder('heads_up', '17:00');
  expect(raised(one, '19:00', '17:59')).toEqual([]);
  expect(raised(one, '19:00', '18:00')).toEqual([one.id]);
});

test('an opening is held no longer than its window is surely open', () => {
  expect(raised(reminder('open', '18:00'), '23:00', '21:00')).toEqual(['r-open']);
});

test.each(['last_call', 'missed'] as const)('a %s is raised though someone put it off, and offers no later time', (stage) => {
  const one = reminder(stage, '20:15');
  expect(raised(one, '22:00', '20:20')).toEqual([one.id]);
  expect(putOffUntil(one, new Date(at('20:20')))).toBeNull();
});
