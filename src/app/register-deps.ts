import { randomBytes } from 'node:crypto';
import { clockCheck } from '../register/clock.js';
import type { RegisterDeps } from '../register/register.js';
import type { Environment } from './environment.js';

export const clock = (): Date => new Date();

/** What a register is given of the world outside, to be read. */
export const registerDeps: RegisterDeps = { now: clock, salt: randomBytes };

/** The same, with somebody to be told of what makes the register less safe. */
export const depsIn = ({ warn }: Pick<Environment, 'warn'>): RegisterDeps => ({ ...registerDeps, warn });

/** The same to be entered into: a clock that is far off is asked about, unless `today` says what day it is. */
export const entryDeps = ({ today, warn }: Environment): RegisterDeps => ({
  ...depsIn({ warn }),
  checkClock: clockCheck(today),
});
