export { BoardScreen } from './board';
export { OfficeJobScreen } from './job';
export { ReminderScreen } from './life';
