import { randomBytes } from 'node:crypto';
import type { RegisterDeps } from '../register/register.js';

export const clock = (): Date => new Date();

/** What a register is given of the world outside. */
export const registerDeps: RegisterDeps = { now: clock, salt: () => randomBytes(16) };
