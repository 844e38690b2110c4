// Amounts as people say and type them. SI inside, US customary or metric at the edge; times in the job's own zone.

export type UnitSystem = 'us' | 'metric';

export const metresPerFoot = 0.3048;
export const metresPerInch = 0.0254;
export const metresPerMile = 1_609.344;
export const cubicMetresPerYard = 0.764554857984;
export const squareMetresPerFoot = 0.09290304;
const sixteenths = 16;

/** Between a number and its unit: a space that does not break the line. */
const gap = '\u00a0';

const trimmed = (value: number, decimals: number): string => {
  const text = value.toFixed(decimals);
  const short = decimals === 0 ? text : text.replace(/\.?0+$/, '');
  return short === '-0' ? '0' : short;
};

/** A length, m: `12' 6 1/2"` to the sixteenth, or `3.81 m` to the millimetre. */
export function formatLength(length_m: number, system: UnitSystem): string {
  if (!Number.isFinite(length_m)) return '–';
  return system === 'us' ? feetInches(length_m) : `${trimmed(length_m, 3)}${gap}m`;
}

function feetInches(length_m: number): string {
  const total = Math.round((Math.abs(length_m) / metresPerInch) * sixteenths);
  const sign = length_m < 0 && total > 0 ? '-' : '';
  const feet = Math.floor(total / (12 * sixteenths));
  const inches = Math.floor((total % (12 * sixteenths)) / sixteenths);
  const fraction = fractionText(total % sixteenths);
  const inchText = [inches > 0 || (fraction === '' && feet === 0) ? String(inches) : '', fraction].filter(Boolean).join(' ');
  const parts = [feet > 0 ? `${feet}'` : '', inchText === '' ? '' : `${inchText}"`].filter(Boolean);
  return sign + parts.join(' ');
}

function fractionText(count: number): string {
  if (count === 0) return '';
  let top = count;
  let bottom = sixteenths;
  while (top % 2 === 0) {
    top /= 2;
    bottom /= 2;
  }
  return `${top}/${bottom}`;
}

const amount = String.raw`\d+(?:\.\d*)?(?:\s+\d+\/\d+)?|\.\d+|\d+\/\d+`;
const metricForm = /^(-?)(\d+(?:\.\d*)?|\.\d+)\s*(mm|cm|m)$/;
const feetForm = new RegExp(String.raw`^(-?)\s*(?:(${amount})\s*f)?[\s-]*(?:(${amount})\s*i)?$`);
const bareForm = new RegExp(String.raw`^(-?)(${amount})$`);
const bareFeetInches = new RegExp(String.raw`^(-?)(\d+)[\s-]+(\d+(?:\.\d*)?(?:\s+\d+\/\d+)?)$`);
const feetThenBare = new RegExp(String.raw`^(-?)(${amount})\s*f[\s-]*(${amount})$`);

const fractions: Readonly<Record<string, string>> = { '½': '1/2', '¼': '1/4', '¾': '3/4', '⅛': '1/8', '⅜': '3/8', '⅝': '5/8', '⅞': '7/8' };

/** Text with one form for each mark: `f` for feet, `i` for inches, a point for decimals. */
function plain(text: string): string {
  return text
    .trim()
    .toLowerCase()
    .replace(/[½¼¾⅛⅜⅝⅞]/g, (sign) => ` ${fractions[sign] ?? ''}`)
    .replace(/[−–]/g, '-')
    .replace(/(\d)\s*-\s*(\d+\/\d)/g, '$1 $2')
    .replace(/(\d),(\d)/g, '$1.$2')
    .replace(/''|["″”“]|(?<![a-z])(inches|inch|in|pulgadas?|pulg)(?![a-z])\.?/g, ' i')
    .replace(/['′’‘]|(?<![a-z])(feet|foot|ft|pies?)(?![a-z])\.?/g, ' f')
    .replace(/\s+/g, ' ')
    .trim();
}

function valueOf(text: string | undefined): number {
  if (text === undefined) return 0;
  return text.trim().split(/\s+/).reduce((sum, part) => {
    const [top, bottom] = part.split('/').map(Number);
    return sum + (bottom === undefined ? (top ?? NaN) : (top ?? NaN) / bottom);
  }, 0);
}

/**
 * A length typed by a person, in metres; null when it can't be read. Marks win over the chosen system: `12' 6 1/2"`,
 * `12 ft 6`, `3.81 m`, `95 mm`. A number alone is feet or metres, as chosen; `12 6` is 12 feet 6 inches in US.
 */
export function parseLength(text: string, system: UnitSystem): number | null {
  const read = readLength(plain(text), system);
  return read !== null && Number.isFinite(read) ? Number(read.toPrecision(12)) : null;
}

function readLength(text: string, system: UnitSystem): number | null {
  if (text === '' || text === '-') return null;
  const metric = metricForm.exec(text);
  if (metric) return signed(metric[1], Number(metric[2]) * ({ mm: 0.001, cm: 0.01, m: 1 }[metric[3] ?? 'm'] ?? 1));
  const marked = feetForm.exec(text) ?? feetThenBare.exec(text);
  if (marked) return signed(marked[1], valueOf(marked[2]) * metresPerFoot + valueOf(marked[3]) * metresPerInch);
  const pair = system === 'us' ? bareFeetInches.exec(text) : null;
  if (pair && !/^-?\d+ \d+\/\d+$/.test(text)) return signed(pair[1], valueOf(pair[2]) * metresPerFoot + valueOf(pair[3]) * metresPerInch);
  const bare = bareForm.exec(text);
  if (bare) return signed(bare[1], valueOf(bare[2]) * (system === 'us' ? metresPerFoot : 1));
  return null;
}

const signed = (sign: string | undefined, value: number): number => (sign === '-' ? -value : value);

/** A volume, m³: `8.2 yd³` or `6.3 m³`. */
export function formatVolume(volume_m3: number, system: UnitSystem): string {
  return system === 'us' ? `${trimmed(volume_m3 / cubicMetresPerYard, 2)}${gap}yd³` : `${trimmed(volume_m3, 2)}${gap}m³`;
}

/** A temperature, °C: `75 °F` or `24 °C`. */
export function formatTemp(temp_c: number, system: UnitSystem): string {
  return system === 'us' ? `${trimmed(temp_c * 1.8 + 32, 0)}${gap}°F` : `${trimmed(temp_c, 0)}${gap}°C`;
}

/** An area, m²: `560 ft²` or `52 m²`. */
export function formatArea(area_m2: number, system: UnitSystem): string {
  return system === 'us' ? `${trimmed(area_m2 / squareMetresPerFoot, 0)}${gap}ft²` : `${trimmed(area_m2, 1)}${gap}m²`;
}

/** A speed, km/h: `9 mph` or `14 km/h`. */
export function formatSpeed(speed_kmh: number, system: UnitSystem): string {
  return system === 'us' ? `${trimmed((speed_kmh * 1_000) / metresPerMile, 0)}${gap}mph` : `${trimmed(speed_kmh, 0)}${gap}km/h`;
}

/** Minutes as `35 min`, `1 h 20 min`, `2 d 4 h`. The same in both languages. */
export function formatDuration(minutes: number): string {
  const whole = Math.round(Math.abs(minutes));
  const sign = minutes < 0 && whole > 0 ? '−' : '';
  const days = Math.floor(whole / 1_440);
  const hours = Math.floor((whole % 1_440) / 60);
  const rest = whole % 60;
  if (days > 0) return sign + joined([[days, 'd'], [hours, 'h']]);
  if (hours > 0) return sign + joined([[hours, 'h'], [rest, 'min']]);
  return `${sign}${rest}${gap}min`;
}

const joined = (parts: readonly (readonly [number, string])[]): string =>
  parts.filter(([count]) => count > 0).map(([count, unit]) => `${count}${gap}${unit}`).join(' ');

const clocks = new Map<string, Intl.DateTimeFormat>();

/** A time of day in a job's zone: `8:10 am`. */
export function formatTime(moment: Date, timeZone: string): string {
  if (Number.isNaN(moment.getTime())) return '–';
  let clock = clocks.get(timeZone);
  if (!clock) {
    clock = new Intl.DateTimeFormat('en-US', { timeZone, hour: 'numeric', minute: '2-digit', hour12: true });
    clocks.set(timeZone, clock);
  }
  return clock.format(moment).replace(/\s?([AP])M$/, (_, letter: string) => `${gap}${letter.toLowerCase()}m`);
}
