// @vitest-environment happy-dom
// The next start draws the job list before any script runs; it is made of nothing but the list.
import { expect, test } from 'vitest';
import type { JobId } from '../../../pwa/src/shared/events';
import { withLook } from '../../../pwa/src/shared/first-look';
import { lookOf } from '../../../pwa/src/page/shell/first-look';

const line = { id: 'j1' as JobId, name: 'Quarry Rise <b>front</b>', place: '$& Mill Road', phase: 'next_days', closed: false } as const;

test('the look holds each job with its way in, and nobody’s text becomes marks', () => {
  const look = lookOf([line]);
  expect(look).toContain('href="#/job/j1/next-days"');
  expect(look).toContain('Quarry Rise &lt;b&gt;front');
  expect(look).toContain('data-screen-title');
});

test('the look stands in the app’s place, letter by letter', () => {
  const look = lookOf([line]);
  expect(withLook('<body><div id="app"></div></body>', look)).toBe(`<body><div id="app">${look}</div></body>`);
});

test('a document without that place stays as it is', () => {
  expect(withLook('<body></body>', '<p>Jobs</p>')).toBe('<body></body>');
});
