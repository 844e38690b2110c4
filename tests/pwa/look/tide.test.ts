import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  bandPath, hourTicks, labelPlaces, levelAt, penetrationLevel, placeTime, readCurve, strengthLevel, windowParts,
} from '../../../pwa/src/page/look/tide/state';

const HOUR = 3_600_000;
const start = Date.parse('2026-07-14T12:00:00Z');
const iso = (hours: number): string => new Date(start + hours * HOUR).toISOString();
const span = { from: start, to: start + 10 * HOUR };
const curve = readCurve([{ at: iso(0), level: 0 }, { at: iso(5), level: 0.5 }, { at: iso(10), level: 1 }]);

describe('how high a band stands', () => {
  it('is empty for wet concrete, full at final set (27.6 MPa, ASTM C403), and rises in between', () => {
    expect([penetrationLevel(0), penetrationLevel(27.6), penetrationLevel(90), penetrationLevel(NaN)]).toEqual([0, 1, 1, 0]);
    fc.assert(fc.property(fc.double({ min: 0.01, max: 27, noNaN: true }), (mpa) => {
      expect(penetrationLevel(mpa * 1.01)).toBeGreaterThanOrEqual(penetrationLevel(mpa));
    }));
  });

  it('is the root of the share of the design strength, held at one, and nothing without a design', () => {
    expect([strengthLevel(7, 28), strengthLevel(40, 28), strengthLevel(7, 0)]).toEqual([0.5, 1, 0]);
  });

  it('runs straight between points and holds its ends', () => {
    expect([-1, 0, 2.5, 10, 12].map((h) => levelAt(curve, start + h * HOUR))).toEqual([0, 0, 0.25, 1, 1]);
  });
});

describe('places on the strip', () => {
  it('holds times outside at the ends', () => {
    expect([-3, 0, 5, 10, 99].map((h) => placeTime(start + h * HOUR, span, 300))).toEqual([0, 0, 150, 300, 300]);
  });

  it('draws a band that starts and ends on the base line and never leaves the strip', () => {
    const path = bandPath(curve, span, span, 300, 40);
    expect(path.startsWith('M0 40')).toBe(true);
    expect(path.endsWith('L300 40Z')).toBe(true);
    for (const [, x, y] of path.matchAll(/(-?[\d.]+) (-?[\d.]+)/g)) {
      expect(Number(x)).toBeGreaterThanOrEqual(0);
      expect(Number(y)).toBeGreaterThanOrEqual(0);
      expect(Number(y)).toBeLessThanOrEqual(40);
    }
  });

  it('draws nothing before the concrete is there or outside the hours shown', () => {
    expect(bandPath([], span, span, 300, 40)).toBe('');
    expect(bandPath(curve, { from: start - 9 * HOUR, to: start - HOUR }, span, 300, 40)).toBe('');
  });
});

it('a strip of three loads over five days is drawn in a small part of a frame', () => {
  const long = Array.from({ length: 480 }, (_, step) => ({ at: iso(step / 12), level: step / 480 }));
  const began = performance.now();
  for (let row = 0; row < 6; row += 1) {
    const points = readCurve(long);
    for (let part = 0; part < 7; part += 1) bandPath(points, span, span, 640, 44);
  }
  expect(performance.now() - began).toBeLessThan(250);
});

describe('the parts of a window', () => {
  const when = (early: number, likely: number, late: number) => ({ early: iso(early), likely: iso(likely), late: iso(late) });
  const hours = (ms: number) => (ms - start) / HOUR;
  const parts = (opens: ReturnType<typeof when>, closes: ReturnType<typeof when> | null) =>
    windowParts({ opens, closes }, span.to).map((part) => `${part.sureness} ${hours(part.from)}-${hours(part.to)}`);

  it('are maybe from the 10 % time, likely from the 50 % time, sure between the late opening and the early close', () => {
    expect(parts(when(2, 3, 4), when(6, 7, 8))).toEqual(['maybe 2-3', 'likely 3-4', 'sure 4-6', 'likely 6-7', 'maybe 7-8']);
  });

  it('have no sure part when a late opening may come after an early close', () => {
    expect(parts(when(2, 4, 7), when(5, 6, 8))).toEqual(['maybe 2-4', 'likely 4-6', 'maybe 6-8']);
  });

  it('never close where only a least age counts', () => {
    expect(parts(when(2, 3, 4), null)).toEqual(['maybe 2-3', 'likely 3-4', 'sure 4-10']);
  });

  it('leave no gap and no overlap, whatever the times', () => {
    const hour = fc.nat(20);
    const three = fc.tuple(hour, hour, hour).map(([a, b, c]) => {
      const [early = 0, likely = 0, late = 0] = [a, b, c].sort((x, y) => x - y);
      return when(early, likely, late);
    });
    fc.assert(fc.property(three, three, (opens, closes) => {
      const found = windowParts({ opens, closes }, span.to);
      found.slice(1).forEach((part, index) => expect(part.from).toBe(found[index]?.to));
    }));
  });
});

describe('hour marks', () => {
  it('stand on whole local hours of the job, not of the phone', () => {
    const ticks = hourTicks({ from: start + 600_000, to: start + 6 * HOUR }, 640, 'America/Chicago');
    expect(ticks.map((tick) => tick.hour)).toEqual([8, 9, 10, 11, 12, 13]);
  });

  it('stand on whole local hours where the zone is half an hour off', () => {
    const ticks = hourTicks(span, 640, 'America/St_Johns');
    expect(ticks.every((tick) => new Date(tick.at).getUTCMinutes() === 30)).toBe(true);
  });

  it('leave room for their labels on a narrow phone', () => {
    const ticks = hourTicks({ from: start, to: start + 48 * HOUR }, 296, 'America/Chicago');
    const gaps = ticks.slice(1).map((tick, index) => tick.x - (ticks[index]?.x ?? 0));
    expect(Math.min(...gaps)).toBeGreaterThanOrEqual(56);
    expect(ticks.every((tick) => tick.hour % 12 === 0)).toBe(true);
  });

  it('end: an endless or backward span has none', () => {
    expect(hourTicks({ from: start, to: start + 24 * 365 * HOUR }, 300, 'America/Chicago')).toEqual([]);
    expect(hourTicks({ from: start, to: start - HOUR }, 300, 'America/Chicago')).toEqual([]);
  });
});

describe('hour labels', () => {
  const tick = (x: number) => ({ at: x, x, hour: 9 });
  it('stay inside the strip and off each other', () => {
    expect(labelPlaces([tick(0), tick(50), tick(120), tick(300)], 300, null).map((one) => one.x)).toEqual([22, 120, 278]);
  });

  it('give way to the word "now"', () => {
    expect(labelPlaces([tick(60), tick(120), tick(200)], 300, 110).map((one) => one.x)).toEqual([60, 200]);
  });
});
