import type { pour as english } from '../en/pour';

export const pour: Record<keyof typeof english, string> = {};
