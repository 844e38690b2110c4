export { LookingBackScreen } from './screen';
