import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { formatArea, formatDuration, formatLength, formatSpeed, formatTemp, formatTime, formatVolume, parseLength } from '../../pwa/src/shared/units';

const foot = 0.3048;
const inch = 0.0254;

describe('feet and inches', () => {
  test.each([
    [`12' 6 1/2"`, 12 * foot + 6.5 * inch],
    [`12'6-1/2"`, 12 * foot + 6.5 * inch],
    [`12'-6 1/2"`, 12 * foot + 6.5 * inch],
    [`12 ft 6 in`, 12 * foot + 6 * inch],
    [`12ft6in`, 12 * foot + 6 * inch],
    [`12' 6`, 12 * foot + 6 * inch],
    [`12 6 1/2`, 12 * foot + 6.5 * inch],
    [`12 6`, 12 * foot + 6 * inch],
    ['6 1/2', 6.5 * foot],
    [`3/4"`, 0.75 * inch],
    [`4½"`, 4.5 * inch],
    [`12’ 6”`, 12 * foot + 6 * inch],
    ['12.5', 12.5 * foot],
    ['-2"', -2 * inch],
    ['3 pies 2 pulg', 3 * foot + 2 * inch],
    ['3.81 m', 3.81],
    ['95 mm', 0.095],
  ])('%s is read as people mean it', (text, metres) => {
    expect(parseLength(text, 'us')).toBeCloseTo(metres, 9);
  });

  test.each(['', '-', 'abc', '12 apples', `6' 3' 2"`, '1/0', '1..2'])('%j is not a length', (text) => {
    expect(parseLength(text, 'us')).toBeNull();
  });

  test.each([
    [0, '0"'],
    [6.5 * inch, '6 1/2"'],
    [0.25 * inch, '1/4"'],
    [12 * foot, `12'`],
    [12 * foot + 6.5 * inch, `12' 6 1/2"`],
    [12 * foot - 0.01 * inch, `12'`],
    [-2 * inch, '-2"'],
  ])('%d m is shown as %s', (metres, text) => {
    expect(formatLength(metres, 'us')).toBe(text);
  });

  test('what is shown reads back to the same text, within half a sixteenth', () => {
    fc.assert(
      fc.property(fc.double({ min: -300, max: 300, noNaN: true }), (metres) => {
        const text = formatLength(metres, 'us');
        const back = parseLength(text, 'us');
        expect(back).not.toBeNull();
        expect(Math.abs((back ?? NaN) - metres)).toBeLessThanOrEqual(inch / 32 + 1e-9);
        expect(formatLength(back ?? NaN, 'us')).toBe(text);
      }),
    );
  });
});

describe('metric', () => {
  test.each([['3.81', 3.81], ['3,81', 3.81], ['381 cm', 3.81], [`12'`, 12 * foot], ['.5', 0.5]])('%s', (text, metres) => {
    expect(parseLength(text, 'metric')).toBeCloseTo(metres, 9);
  });

  test('what is shown reads back within half a millimetre', () => {
    fc.assert(
      fc.property(fc.double({ min: -300, max: 300, noNaN: true }), (metres) => {
        expect(Math.abs((parseLength(formatLength(metres, 'metric'), 'metric') ?? NaN) - metres)).toBeLessThanOrEqual(0.0005 + 1e-9);
      }),
    );
  });
});

test('amounts carry their unit on the same line', () => {
  expect(formatVolume(6.1164388639, 'us')).toBe('8\u00a0yd³');
  expect(formatVolume(6.25, 'metric')).toBe('6.25\u00a0m³');
  expect(formatTemp(24, 'us')).toBe('75\u00a0°F');
  expect(formatTemp(-0.2, 'metric')).toBe('0\u00a0°C');
  expect(formatArea(52, 'us')).toBe('560\u00a0ft²');
  expect(formatSpeed(16.09344, 'us')).toBe('10\u00a0mph');
});

test.each([[35, '35 min'], [80, '1 h 20 min'], [120, '2 h'], [59.7, '1 h'], [3120, '2 d 4 h'], [-5, '−5 min'], [0, '0 min']])(
  '%d minutes are said as %s',
  (minutes, text) => expect(formatDuration(minutes).replaceAll('\u00a0', ' ')).toBe(text),
);

test('a time is said in the zone of the job', () => {
  const moment = new Date('2026-07-14T13:10:00Z');
  expect(formatTime(moment, 'America/Chicago')).toBe('8:10\u00a0am');
  expect(formatTime(moment, 'America/Los_Angeles')).toBe('6:10\u00a0am');
  expect(formatTime(new Date(NaN), 'UTC')).toBe('–');
});
