import type { look as english } from '../en/look';

export const look: Record<keyof typeof english, string> = {};
