export { NextLine } from './next-line';
export { TroubleNotice } from './notices';
export { NowScreen } from './screen';
export { nextStep, type Step, type StepPlace } from './step';
export { ZoneNote } from './zone-note';
