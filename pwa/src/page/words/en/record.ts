export const record = {} as const;
