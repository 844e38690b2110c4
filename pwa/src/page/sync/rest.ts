// How long to rest between looks at the server, by who is watching and what the battery says.
type Battery = { readonly charging: boolean; readonly level: number };
type WithBattery = { getBattery?: () => Promise<Battery> };

const usualMs = 15_000;
const savingMs = 60_000;

let battery: Battery | null = null;

/** Asks for the battery once, where the browser tells. */
export async function watchBattery(): Promise<void> {
  const ask = (navigator as WithBattery).getBattery;
  if (!ask) return;
  try {
    battery = await ask.call(navigator);
  } catch {
    battery = null; // the browser would not say: rest as usual
  }
}

/** So little left, and not on a cable, that it counts more than comfort. */
export const isLow = (power: Battery | null): boolean => power !== null && !power.charging && power.level <= 0.2;

export function restMs(hidden: boolean, power: Battery | null = battery): number {
  return hidden || isLow(power) ? savingMs : usualMs;
}
