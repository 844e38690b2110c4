export { DropPin, PIN_KINDS } from './drop'
export { pinMarks, PinList } from './list'
export { PinWalk } from './walk-list'
