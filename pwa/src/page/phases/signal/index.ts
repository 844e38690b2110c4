export { SignalBanner } from './banner'
export { SignalSwitches } from './switches'
