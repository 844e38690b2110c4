// By how much the clocks of a time zone are ahead of UTC.
const MINUTE_MS = 60_000;
const made = new Map<string, Intl.DateTimeFormat>();

/** A formatter, made once: making one costs far more than using it. */
function clockOf(timeZone: string): Intl.DateTimeFormat {
  const known = made.get(timeZone) ?? new Intl.DateTimeFormat('en-US', { timeZone, hourCycle: 'h23', year: 'numeric', month: 'numeric', day: 'numeric', hour: 'numeric', minute: 'numeric' });
  made.set(timeZone, known);
  return known;
}

/** At that instant [ms], whole minutes. Throws RangeError for a zone that is none, and for no instant. */
export function zoneOffset_ms(at_ms: number, timeZone: string): number {
  const found = new Map(clockOf(timeZone).formatToParts(at_ms).map(({ type, value }) => [type, Number(value)]));
  const read = (type: Intl.DateTimeFormatPartTypes): number => found.get(type) ?? 0;
  const there = Date.UTC(read('year'), read('month') - 1, read('day'), read('hour'), read('minute'));
  return there - Math.floor(at_ms / MINUTE_MS) * MINUTE_MS;
}
