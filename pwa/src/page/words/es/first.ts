// What the first screens say, in Spanish.
import type { first as english } from '../en/first';
import { conflicts } from './conflicts';
import { engine } from './engine';
import { look } from './look';
import { now } from './now';
import { shell } from './shell';
import { signal } from './signal';
import { trouble } from './trouble';

export const first: Readonly<Record<keyof typeof english, string>> = { ...shell, ...look, ...now, ...engine, ...signal, ...trouble, ...conflicts };
