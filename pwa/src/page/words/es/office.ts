import type { office as english } from '../en/office';

export const office: Record<keyof typeof english, string> = {};
