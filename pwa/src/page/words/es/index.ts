// All Spanish words. A key that English has and Spanish lacks does not compile.
import type { en } from '../en';
import { conflicts } from './conflicts';
import { calendar } from './calendar';
import { bringIn } from './bringIn';
import { assumed } from './assumed';
import { care } from './care';
import { covers } from './covers';
import { practice } from './practice';
import { pins } from './pins';
import { signal } from './signal';
import { decide } from './decide';
import { engine } from './engine';
import { entries } from './entries';
import { far } from './far';
import { layout } from './layout';
import { look } from './look';
import { lookback } from './lookback';
import { nextDays } from './nextDays';
import { notices } from './notices';
import { now } from './now';
import { office } from './office';
import { pour } from './pour';
import { ready } from './ready';
import { record } from './record';
import { settings } from './settings';
import { shell } from './shell';
import { texture } from './texture';
import { trouble } from './trouble';

export const es: Readonly<Record<keyof typeof en, string>> = {
  ...shell, ...look, ...lookback, ...now, ...notices, ...office, ...far, ...layout, ...ready, ...pour, ...texture, ...nextDays, ...record, ...engine, ...entries, ...decide, ...trouble, ...care, ...bringIn, ...calendar, ...conflicts, ...covers, ...assumed, ...practice, ...pins, ...signal, ...settings,
};
