// Who is told, what waits and what still counts, on a phone without signal: what the vectors say, as on the server.
import { expect, test } from 'vitest';
import { audienceOf, firstTold, isMine, WAITS_MS, workingDay, type Person } from '../../../pwa/src/page/push/told';
import type { Reminder, Role } from '../../../pwa/src/page/sync/contract';
import { heldUntil, stillCounts } from '../../../pwa/src/page/sync/put-off';
import { JobFold } from '../../../pwa/src/shared/fold';
import { filled, JOB, readVectors } from '../shared/vectors';

type Named = { readonly name: string };
type Told = {
  readonly people: readonly (readonly [string, Role])[];
  readonly waits_min: Readonly<Record<string, number>>;
  readonly cases: readonly (Named & Parameters<typeof audienceOf>[0] & { readonly lead: string | null; readonly logged: readonly string[]; readonly told: readonly string[] })[];
  readonly days: readonly (Named & { readonly now: string; readonly zone: string; readonly since: string })[];
};
type PutOff = {
  readonly reminder: { readonly opens: string; readonly closes: NonNullable<Reminder['closes']>; readonly expires: string; readonly last_call: string };
  readonly held: readonly (Named & Pick<Reminder, 'stage'> & { readonly counts_from: string | null; readonly last_call?: string | null; readonly at: string; readonly until: string; readonly held: string | null })[];
  readonly in_hand: readonly (Named & { readonly counts_from: string | null; readonly at: string; readonly counts: boolean })[];
};
const told = readVectors<Told>('first_told');
const putOff = readVectors<PutOff>('put_off');
const people: readonly Person[] = told.people.map(([id, role]) => ({ id, role }));
const who = (id: string): Person => people.find((one) => one.id === id) as Person;

test.each(told.cases)('$name', ({ what, stage, lead, logged, told: wanted }) => {
  expect([...firstTold({ what, stage }, lead, people, () => new Set(logged))].sort()).toEqual(wanted);
});

test.each(told.days)('a working day: $name', ({ now, zone, since }) => {
  expect(new Date(workingDay(Date.parse(now), zone)).toISOString()).toBe(since);
});

test('what nobody took waits as long as on the server', () => {
  expect(Object.fromEntries(Object.entries(WAITS_MS).map(([name, ms]) => [name, ms / 60_000]))).toEqual(told.waits_min);
});

test.each(putOff.held)('put off: $name', ({ stage, counts_from, last_call, at, until, held }) => {
  const when = (time: string): Reminder['opens'] => ({ early: time, likely: time, late: time });
  const { opens, closes, expires } = putOff.reminder;
  const one = { id: 'r', job: JOB, what: 'saw', subject: '', stage, opens: when(opens), closes, expires, counts_from } as const;
  const call = last_call === undefined ? putOff.reminder.last_call : last_call;
  const lastCall = (job: string, subject: string, due: string) => ({ job: job as Reminder['job'], what: 'saw', subject, stage: 'last_call', due }) as const;
  const others = [lastCall('another', '', opens), lastCall(JOB, 'another', opens), ...(call === null ? [] : [lastCall(JOB, '', call)])];
  const found = heldUntil(one, { at, until }, others);
  expect(found === null ? null : new Date(found).toISOString()).toBe(held);
});

test.each(putOff.in_hand)('in hand: $name', ({ counts_from, at, counts }) => {
  expect(stillCounts({ counts_from }, at)).toBe(counts);
});

test('an opening that the lead did not take comes to the foreman, then to the office, and to no other crew', () => {
  const due = '2026-07-14T18:00:00.000Z';
  const one = { what: 'saw', stage: 'open', due } as const;
  const first = firstTold(one, 'ben', people, () => new Set());
  const seen = (minutes: number): string[] => people.filter((person) => isMine(one, person, first, Date.parse(due) + minutes * 60_000)).map(({ id }) => id);
  expect([0, 44, 45, 89, 90].map(seen)).toEqual([['ben'], ['ben'], ['ana', 'ben'], ['ana', 'ben'], ['ana', 'ben', 'eve']]);
});

test('a check goes no further than the foremen, and a heads-up no further than who it went to', () => {
  const due = '2026-07-14T18:00:00.000Z';
  const late = Date.parse(due) + 24 * 3_600_000;
  expect(isMine({ what: 'check', stage: 'open', due }, who('eve'), new Set(['ben']), late)).toBe(false);
  expect(isMine({ what: 'saw', stage: 'heads_up', due }, who('ana'), new Set(['ben']), late)).toBe(false);
});

test('the rule asks who logged only for a call to the crew', () => {
  const never = (): ReadonlySet<string> => { throw new Error('asked'); };
  expect(audienceOf({ what: 'wash', stage: 'open' })).toEqual(['foreman']);
  expect([...firstTold({ what: 'wash', stage: 'open' }, 'ben', people, never)].sort()).toEqual(['ana', 'ben']);
});

test('who wrote to a job is counted though it was withdrawn, and not from before', () => {
  const fold = new JobFold(JOB);
  const note = (id: string, device: string, at: string) => filled({ id, clock: `00000000000000${id}-0000-${device}`, kind: 'note.written', body: { text: id }, at });
  fold.add(note('1', 'a', '2026-07-14T10:00:00.000Z'));
  fold.add(note('2', 'b', '2026-07-14T12:00:00.000Z'));
  fold.add(filled({ id: '3', clock: '000000000000003-0000-b', kind: 'event.retracted', body: { event: '2' }, at: '2026-07-14T12:05:00.000Z' }));
  expect([...fold.authorsSince(Date.parse('2026-07-14T11:00:00.000Z'))]).toEqual(['person-b']);
});
