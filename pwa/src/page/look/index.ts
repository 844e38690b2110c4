import './base.css';

export { Bar, type BarProps } from './bar';
export { Button, LinkButton, type ButtonProps, type LinkButtonProps } from './button';
export { Choice, type ChoiceOption, type ChoiceProps } from './choice';
export { Field, TextField, type FieldProps, type TextFieldProps } from './field';
export { Care, Notice, type CareWhat, type NoticeProps } from './notice';
export { NumberField, type NumberFieldProps } from './number-field';
export { Empty, Progress, Screen, type EmptyProps, type ProgressProps, type ScreenProps } from './screen';
export { Tick, type TickProps } from './tick';
export { StateMark } from './tide/patterns';
export { localDay, sayDay, sayMoment } from './tide/moment';
export { sayLeft, sayRange, sayState, sayTime } from './tide/say';
export { penetrationLevel, strengthLevel, type LevelPoint } from './tide/state';
export { TideStrip, type TideRow, type TideStripProps } from './tide/TideStrip';
export {
  closingFrom,
  minutesToOpen,
  stateWord,
  timeLeft,
  type Left,
  type StateWord,
  type When,
  type WorkWindow,
} from './tide/window';
