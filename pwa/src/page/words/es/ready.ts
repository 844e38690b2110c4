import type { ready as english } from '../en/ready';

export const ready: Record<keyof typeof english, string> = {};
