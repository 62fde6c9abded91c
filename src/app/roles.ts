import { makeRegisterRoles } from '../register/open.js';
import type { Environment } from './environment.js';
import { findRegister } from './kept-register.js';
import { depsIn } from './register-deps.js';

/** Makes the roles for the users of a register on a server, and the register itself where there is none yet. */
export async function makeRoles(
  dir: string,
  environment: Environment,
): Promise<Awaited<ReturnType<typeof makeRegisterRoles>>> {
  const { place } = await findRegister(dir, environment);
  return makeRegisterRoles(place, depsIn(environment));
}
