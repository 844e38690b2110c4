export const layout = {} as const;
