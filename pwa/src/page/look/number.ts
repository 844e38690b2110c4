export type NumberProblem = 'not_a_number' | 'too_low' | 'too_high';

export interface Limits {
  min?: number | undefined;
  max?: number | undefined;
}

/** Reads what a person typed: a decimal point or comma, spaces ignored. Empty text is a null value, not a problem. */
export function readNumber(
  text: string,
  { min, max }: Limits,
): { value: number | null; problem: NumberProblem | null } {
  const trimmed = text.replace(/\s/g, '').replace('−', '-');
  if (trimmed === '') return { value: null, problem: null };
  const value = /^[+-]?(\d+([.,]\d*)?|[.,]\d+)$/.test(trimmed) ? Number(trimmed.replace(',', '.')) : NaN;
  if (!Number.isFinite(value)) return { value: null, problem: 'not_a_number' };
  if (min !== undefined && value < min) return { value: null, problem: 'too_low' };
  if (max !== undefined && value > max) return { value: null, problem: 'too_high' };
  return { value, problem: null };
}

/** The value one step from what is typed (or from what was last kept), held inside the limits, free of float dust. */
export function stepTo(text: string, kept: number | null, by: number, { min, max }: Limits): number {
  const from = readNumber(text, {}).value ?? kept ?? min ?? 0;
  const digits = Math.max(0, -Math.floor(Math.log10(Math.abs(by) || 1)) + 2);
  const next = Number((from + by).toFixed(digits));
  return Math.min(max ?? Infinity, Math.max(min ?? -Infinity, next));
}
