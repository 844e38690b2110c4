// @vitest-environment happy-dom
// What a screen says of a job whose times are not on the phone: where they are, not that there are none.
import { signal } from '@preact/signals';
import { render, type VNode } from 'preact';
import { act } from 'preact/test-utils';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { OutlookState } from '../../../pwa/src/page/now/job-card';
import { Reminders } from '../../../pwa/src/page/phases/next-days/reminders';
import { Slots } from '../../../pwa/src/page/phases/next-days/slots';
import { language } from '../../../pwa/src/page/shell/preferences';
import type { Outlook } from '../../../pwa/src/page/sync/contract';
import { at, job, outlook as outlookOf } from './sample';

const { outlook } = vi.hoisted(() => ({ outlook: { value: null as Outlook | null } }));
vi.mock('../../../pwa/src/page/sync/outlook', () => ({ outlook, serverOutlook: outlook, followJob: () => signal(null) }));

const told = { ...outlookOf({}), carried: ['Oak'], left_out: 5 };
const far = { en: 'This job’s times are not on this phone. They come with signal.', es: 'Las horas de esta obra no están en este teléfono. Llegan con señal.' };
let place: HTMLElement;

async function said(what: VNode): Promise<string> {
  await act(() => render(what, place));
  return place.textContent ?? '';
}

beforeEach(() => {
  language.value = 'en';
  outlook.value = told;
  place = document.body.appendChild(document.createElement('div'));
});
afterEach(() => {
  render(null, place);
  place.remove();
});

test.each(['en', 'es'] as const)('the times of a job left out are said to come with signal (%s)', async (spoken) => {
  language.value = spoken;
  expect(await said(<OutlookState job={job('Pine')} look={null} now={at(4)} />)).toContain(far[spoken]);
  expect(await said(<Reminders job={job('Pine')} />)).toBe(far[spoken]);
});

test('a time to wash is said to come with signal too', async () => {
  expect(await said(<Slots job={job('Pine')} work="wash" />)).toBe('Reminders and windows come with the next signal.');
});

test('a job the server told of, without times, is said to have none yet', async () => {
  expect(await said(<OutlookState job={job('Oak')} look={null} now={at(4)} />)).toContain('No times yet for this job');
  expect(await said(<Reminders job={job('Oak')} />)).toBe('No reminder for this job yet.');
  expect(await said(<Slots job={job('Oak')} work="wash" />)).toBe('No time worked out yet. It comes with the next signal.');
});
