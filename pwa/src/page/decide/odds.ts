// Chances as people say them.
import { t } from '../words';

const steps = [[1, 10], [1, 5], [1, 4], [1, 3], [1, 2], [2, 3], [3, 4], [4, 5], [9, 10]] as const;

/** The nearest plain odds to a chance [0..1]; null below 1 in 20 and above 19 in 20. */
export function oddsOf(chance: number): readonly [number, number] | null {
  if (!(chance >= 0.05) || chance > 0.95) return null;
  return steps.reduce<readonly [number, number]>((best, step) => (Math.abs(step[0] / step[1] - chance) < Math.abs(best[0] / best[1] - chance) ? step : best), steps[0]);
}

/** "1 in 3"; "less than 1 in 20"; "more than 19 in 20". */
export function sayOdds(chance: number): string {
  const odds = oddsOf(chance);
  if (odds) return t('decide.odds', { some: odds[0], all: odds[1] });
  return t(chance < 0.5 ? 'decide.odds.least' : 'decide.odds.most');
}
