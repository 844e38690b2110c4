import type { layout as english } from '../en/layout';

export const layout: Record<keyof typeof english, string> = {};
