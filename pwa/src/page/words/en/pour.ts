export const pour = {} as const;
