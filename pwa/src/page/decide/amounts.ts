// Amounts that only weather and concrete have, in the person's units.
import { metresPerInch } from '../../shared/units';
import { units } from '../shell/preferences';

const lbFt2PerKgM2 = 0.204816;
const lbPerYd3 = 1.68555;
const psiPerMPa = 145.0377;
const gap = '\u00a0';
const us = (): boolean => units.value === 'us';

/** Rain, mm. */
export const sayRain = (rain_mm: number): string => (us() ? `${(rain_mm / metresPerInch / 1_000).toFixed(2)}${gap}in` : `${rain_mm.toFixed(1)}${gap}mm`);

/** Water lost by a surface, kg/m²·h. */
export const sayLoss = (kg_m2_h: number): string => (us() ? `${(kg_m2_h * lbFt2PerKgM2).toFixed(2)}${gap}lb/ft²/h` : `${kg_m2_h.toFixed(1)}${gap}kg/m²/h`);

/** A difference of temperature, K. */
export const sayDrop = (kelvin: number): string => (us() ? `${(kelvin * 1.8).toFixed(0)}${gap}°F` : `${kelvin.toFixed(0)}${gap}°C`);

/** Strength, MPa; psi to the nearest hundred, as mixes are named. */
export const sayStrength = (mpa: number): string => (us() ? `${(Math.round((mpa * psiPerMPa) / 100) * 100).toLocaleString('en-US')}${gap}psi` : `${mpa.toFixed(0)}${gap}MPa`);

/** A weight in a volume of concrete, kg/m³. */
export const sayIce = (kg_m3: number): string => (us() ? `${Math.round(kg_m3 * lbPerYd3)}${gap}lb/yd³` : `${kg_m3}${gap}kg/m³`);
