// Where numbers fall in a plot. Plain numbers, no DOM: across in percent of the width, down in pixels.

export type Range = { readonly low: number; readonly high: number };

const steps = [1, 2, 5];

/** Round marks that cover the values and zero, five or so of them. */
export function marksFor(values: readonly number[], wanted = 5): readonly number[] {
  const low = Math.min(0, ...values);
  const high = Math.max(0, ...values);
  const rough = Math.max(high - low, 1e-9) / wanted;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = power * (steps.find((one) => one * power >= rough) ?? 10);
  const first = Math.floor(low / step);
  const last = Math.max(Math.ceil(high / step), first + 1);
  return Array.from({ length: last - first + 1 }, (_, n) => tidy((first + n) * step));
}

const tidy = (value: number): number => Number(value.toPrecision(12)) || 0;

export const rangeOf = (marks: readonly number[]): Range => ({ low: marks[0] ?? 0, high: marks.at(-1) ?? 1 });

/** A value's place, 0 at the low end, 1 at the high end. */
export const shareOf = (value: number, { low, high }: Range): number => (value - low) / (high - low);

export type Stacked<T> = { readonly item: T; readonly share: number; readonly level: number };

/** Dots side by side where they would lie on each other: each goes to the lowest level that is free around its place. */
export function stack<T>(items: readonly T[], value: (item: T) => number, range: Range, width: number): readonly Stacked<T>[] {
  const lastAt: number[] = [];
  return [...items]
    .sort((a, b) => value(a) - value(b))
    .map((item) => {
      const share = shareOf(value(item), range);
      const free = lastAt.findIndex((at) => share - at >= width - 1e-9);
      const level = free < 0 ? lastAt.length : free;
      lastAt[level] = share;
      return { item, share, level };
    });
}
