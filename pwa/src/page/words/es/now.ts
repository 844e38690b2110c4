import type { now as english } from '../en/now';

export const now: Record<keyof typeof english, string> = {};
