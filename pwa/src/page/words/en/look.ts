export const look = {} as const;
