export { BoardScreen } from './board';
export { OfficeJobScreen } from './job';
