export const nextDays = {} as const;
