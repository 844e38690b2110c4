import type { record as english } from '../en/record';

export const record: Record<keyof typeof english, string> = {};
