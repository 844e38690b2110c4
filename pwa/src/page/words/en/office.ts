export const office = {} as const;
