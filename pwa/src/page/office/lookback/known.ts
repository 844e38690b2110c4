// What is known of a mix as the phone has it from the outlook: the server's own choice, made again for a mix being typed.
import type { KnownMix, Prior } from '../../sync/contract';
import type { KnownPace } from './contract';

/** Standard deviations of the logarithm: of a mix nobody has poured; what two plants, two mixes differ by. */
export const bookSd = 0.2;
const anotherPlantSd = 0.1;
const anotherMixSd = 0.14;

const plain = (name: string | null | undefined): string => (name ?? '').trim().split(/\s+/).join(' ').toLowerCase();

/** The nearest of what is known: of this mix from this plant, of this mix, of any. Null while nothing is. */
export function priorOf(known: readonly KnownMix[], mix: string, plant: string | null | undefined): Prior | null {
  const find = (ofMix: string, ofPlant: string): KnownMix | undefined => known.find((one) => plain(one.mix) === ofMix && plain(one.plant) === ofPlant && one.pours > 0);
  const [name, from] = [plain(mix), plain(plant)];
  const own = from === '' ? undefined : find(name, from);
  if (own) return made('plant', own, 0, mix, plant);
  const any = name === '' ? undefined : find(name, '');
  if (any) return made('mix', any, from === '' ? 0 : anotherPlantSd, mix, plant);
  const all = find('', '');
  return all ? made('company', all, anotherMixSd, mix, plant) : null;
}

function made(level: Prior['level'], known: KnownMix, further: number, mix: string, plant: string | null | undefined): Prior {
  const sd = Math.max(known.sd_log, Math.min(bookSd, Math.hypot(known.sd_log, further)));
  const round = (value: number): number => Number(value.toFixed(4));
  return { mix, plant: plant ?? '', level, pours: known.pours, set_factor: round(Math.exp(known.mean_log)), set_factor_sd: round(sd) };
}

export const paceOf = ({ pours, set_factor, set_factor_sd }: Prior): KnownPace => ({ pours, percent: 100 * (set_factor - 1), doubt_percent: 100 * set_factor_sd });
