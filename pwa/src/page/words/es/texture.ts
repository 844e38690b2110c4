import type { texture as english } from '../en/texture';

export const texture: Record<keyof typeof english, string> = {};
