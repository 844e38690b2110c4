/** A glove bounces: what comes sooner after something else came to lie under the finger was meant for what lay there before [ms] (EST). */
export const BOUNCE_MS = 500
