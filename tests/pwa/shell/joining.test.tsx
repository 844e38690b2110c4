// @vitest-environment happy-dom
import 'fake-indexeddb/auto';
import { render } from 'preact';
import { act } from 'preact/test-utils';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { JoinScreen } from '../../../pwa/src/page/shell/join';
import { language } from '../../../pwa/src/page/shell/preferences';
import { me } from '../../../pwa/src/page/sync/state';

const asked: { path: string; body: unknown }[] = [];
let place: HTMLElement;

function answer(status: number, body: unknown): void {
  vi.stubGlobal('fetch', async (path: string, init?: RequestInit) => {
    asked.push({ path, body: JSON.parse(String(init?.body)) });
    return new Response(JSON.stringify(body), { status, headers: { 'Content-Type': 'application/json' } });
  });
}

const field = (label: string): HTMLInputElement => {
  const found = [...place.querySelectorAll('label')].find((one) => one.textContent?.includes(label));
  const input = found?.querySelector('input');
  if (!input) throw new Error(`no field ${label}`);
  return input;
};

async function type(label: string, text: string): Promise<void> {
  await act(() => {
    field(label).value = text;
    field(label).dispatchEvent(new Event('input', { bubbles: true }));
  });
}

async function press(): Promise<void> {
  await act(() => {
    place.querySelector('form')?.dispatchEvent(new Event('submit', { bubbles: true, cancelable: true }));
  });
}

/** Waits until the screen says so. */
const said = (words: string): Promise<void> => vi.waitFor(() => expect(place.textContent).toContain(words), 5_000);

async function show(code = '', onJoined: () => void = () => undefined): Promise<void> {
  await act(() => render(<JoinScreen code={code} onJoined={onJoined} />, place));
}

beforeEach(() => {
  asked.length = 0;
  localStorage.clear();
  language.value = 'en';
  place = document.body.appendChild(document.createElement('div'));
});
afterEach(() => {
  render(null, place);
  place.remove();
  vi.unstubAllGlobals();
});

test('opening the link spends nothing: the code is filled in and waits for the touch', async () => {
  answer(500, {});
  await show('ABCD2345');
  expect(field('Code').value).toBe('ABCD2345');
  expect(asked).toEqual([]);
});

test('a short code or no name is said before anything is sent', async () => {
  answer(500, {});
  await show();
  await type('Code', 'ABC');
  await press();
  await said('The code has 8 letters and digits');
  await type('Code', 'abcd-2345');
  await press();
  await said('Enter your name.');
  expect(asked).toEqual([]);
});

test('the server’s refusal is said in the person’s language, and what was typed stays', async () => {
  answer(410, { error: { code: 'code_expired', message: 'Too old.', do: 'Ask.' } });
  language.value = 'es';
  await show();
  await type('Código', 'abcd-2345');
  await type('Su nombre', 'Luis');
  await press();
  await said('Pida uno nuevo');
  expect(field('Su nombre').value).toBe('Luis');
  await act(() => render(null, place));
  await show();
  expect(field('Código').value).toBe('abcd-2345');
});

test('joining takes the session and clears what was typed', async () => {
  answer(201, {
    token: 't', device: { id: '0192aaaa-0000-7000-8000-00000000000d' }, person: { id: '0192aaaa-0000-7000-8000-00000000000e', name: 'Luis' },
    role: 'crew', company: { id: 'c', name: 'Slab crew' }, epoch: 'e', server_time: '2026-07-14T13:00:00.000Z',
  });
  const joined = vi.fn();
  await show('', joined);
  await type('Code', 'abcd-2345');
  await type('Your name', ' Luis ');
  await press();
  expect(asked[0]).toMatchObject({ path: '/api/join', body: { code: 'ABCD2345', person_name: 'Luis', language: 'en' } });
  await vi.waitFor(() => expect(joined).toHaveBeenCalledOnce(), 5_000);
  expect(me.value).toMatchObject({ name: 'Luis', role: 'crew' });
  expect(me.value).not.toHaveProperty('token');
  expect(localStorage.getItem('slabtide.draft.join.code')).toBeNull();
});
