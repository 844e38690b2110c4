export { DropPin, PIN_KINDS, usePinDraft } from './drop'
export { pinMarks, PinList } from './list'
export { PinWalk } from './walk-list'
