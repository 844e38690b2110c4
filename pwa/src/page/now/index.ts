export { NowScreen } from './screen';
