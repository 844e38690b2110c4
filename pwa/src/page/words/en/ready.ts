export const ready = {} as const;
