import type { nextDays as english } from '../en/nextDays';

export const nextDays: Record<keyof typeof english, string> = {};
