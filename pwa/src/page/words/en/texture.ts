export const texture = {} as const;
