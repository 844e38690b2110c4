// What the first screens say, before the other rooms are here.
import { conflicts } from './conflicts';
import { engine } from './engine';
import { look } from './look';
import { now } from './now';
import { shell } from './shell';
import { signal } from './signal';
import { trouble } from './trouble';

export const first = { ...shell, ...look, ...now, ...engine, ...signal, ...trouble, ...conflicts };
