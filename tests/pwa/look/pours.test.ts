import { describe, expect, it } from 'vitest';
import { pourAhead } from '../../../pwa/src/page/now/pours';
import { handStrip, sawStrip } from '../../../pwa/src/page/now/strips';
import { at, bay, closedByHandbook, iso, job, jobOutlook, load, loadTimeline, mark, order } from './sample';

const day = { date: '2026-07-15', low_c: 17, high_c: 29, rh: 0.6, wind_kmh: 12, cloud: 0.2 };
const facts = (over: Record<string, unknown>, look: Parameters<typeof pourAhead>[1], hours = 0) =>
  Object.fromEntries(pourAhead(job('Oak Lane', { order: order(25), ...over }), look, at(hours)).facts.map((f) => [f.name, f.state]));

describe('the weather to go over before a pour', () => {
  it('is the day of the pour by the job’s own calendar', () => {
    expect(facts({ weather_days: [day] }, null)).toEqual({ air: 'fine', humidity: 'fine', cover: 'missing' });
    expect(facts({ weather_days: [{ ...day, date: '2026-07-16' }] }, null)).toEqual({ cover: 'missing' });
  });

  it('asks for a second look at heat from 32 °C and at cold under 40 °F', () => {
    expect(facts({ weather_days: [{ ...day, high_c: 32 }] }, null)['air']).toBe('watch');
    expect(facts({ weather_days: [{ ...day, low_c: 4 }] }, null)['air']).toBe('watch');
  });

  it('asks for a second look when drying reaches 1.0 kg/m²/h in the first six hours', () => {
    const windy = loadTimeline('1', 25);
    const fast = { ...windy, curve: windy.curve.map((p) => ({ ...p, evaporation_kg_m2_h: 1.0 })) };
    expect(facts({}, jobOutlook([windy]))['drying']).toBe('fine');
    expect(facts({}, jobOutlook([fast]))['drying']).toBe('watch');
  });

  it('wants weather to the day after the pour', () => {
    const until = (hours: number) =>
      jobOutlook([], { weather: { source: 'file', label: 'station file', covers_from: iso(0), covers_to: iso(hours), noted: false } });
    expect([facts({}, until(48))['cover'], facts({}, until(49))['cover']]).toEqual(['watch', 'fine']);
  });

  it('says when the set time has gone by without a load', () => {
    const late = (hours: number) => pourAhead(job('Oak Lane', { order: order(0) }), null, at(hours)).overdue;
    expect([late(1), late(1.1)]).toEqual([false, true]);
  });
});

describe('the strips of a job', () => {
  const name = (work: string, number: number | null) => `${work} ${number}`;
  const timeline = jobOutlook([loadTimeline('a'), loadTimeline('b', 0.75)]).timeline;
  const poured = job('Oak Lane', { loads: [load('a', 1), load('b', 2)], bays: [bay('1', 'a', { texture: mark })] });
  if (!timeline) throw new Error('the sample has a timeline');

  it('show the hand work still to do, and all of it when asked', () => {
    expect(handStrip(poured, timeline, at(3), name)?.rows.map((row) => row.label)).toEqual(['edge 2', 'texture 2']);
    expect(handStrip(poured, timeline, at(3), name, true)?.rows).toHaveLength(4);
  });

  it('reach from the first concrete to past the last soft edge', () => {
    const strip = handStrip(poured, timeline, at(3), name, true);
    expect([strip?.from, strip?.to]).toEqual([at(0), at(5.75)]);
  });

  it('are no longer than a day of hand work, however late it is looked at', () => {
    expect(handStrip(poured, timeline, at(200), name, true)?.to).toEqual(at(5.75));
  });

  it('show one saw row for the slab, none once all cuts are made', () => {
    expect(sawStrip(poured, timeline, at(3), name)?.rows.map((row) => row.label)).toEqual(['saw null']);
    expect(sawStrip({ ...poured, cuts_done: true }, timeline, at(3), name)).toBeNull();
  });

  it('close the saw by the handbooks where they end it first, for the slab and load by load', () => {
    const cooled = { ...timeline, loads: [loadTimeline('a'), closedByHandbook(loadTimeline('b', 0.75), 15)] };
    const [slab] = sawStrip(poured, cooled, at(3), name)?.rows ?? [];
    expect(slab?.window?.closes).toEqual({ early: iso(15), likely: iso(15), late: iso(15) });
    expect(slab?.curve[0]?.at).toBe(iso(0.75)); // the strength of the load that closes first
    const loads = sawStrip(poured, cooled, at(3), name, true)?.rows ?? [];
    expect(loads.map((row) => row.window?.closes?.likely)).toEqual([iso(19), iso(15)]);
  });

  it('show a load that the models give no saw window by the handbooks', () => {
    const bare = closedByHandbook({ ...loadTimeline('a'), windows: { saw: null } }, 14);
    const [row] = sawStrip(poured, { ...timeline, loads: [bare] }, at(3), name)?.rows ?? [];
    expect([row?.window?.opens.likely, row?.window?.closes?.likely]).toEqual([iso(7), iso(14)]);
  });

  it('are nothing where no load has a timeline', () => {
    expect(handStrip(poured, { ...timeline, loads: [] }, at(3), name)).toBeNull();
    expect(sawStrip(poured, { ...timeline, loads: [] }, at(3), name)).toBeNull();
  });
});
