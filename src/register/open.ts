import { registerUrlProblem } from '../documents/check/register-url.js';
import { Refusal } from '../problem.js';
import { refuse } from './messages.js';
import type { Access, Register, RegisterDeps } from './register.js';
import { RegisterStore } from './store.js';

/** Where a register is kept: in a file of this machine, or by a server for several machines. */
export type RegisterPlace =
  | { readonly kind: 'sqlite'; readonly file: string }
  | { readonly kind: 'postgres'; readonly url: string };

/** Opens the register at a place. Nothing is touched before it is used; the first entry makes it. */
export async function openRegister(
  place: RegisterPlace,
  deps: RegisterDeps,
  access: Access = 'write',
): Promise<Register> {
  // Each store is loaded only where it is used, so that a command starts quickly.
  if (place.kind === 'sqlite') {
    const { SqliteDatabase } = await import('./sqlite/database.js');
    return new RegisterStore(new SqliteDatabase(place.file, deps, access), deps);
  }
  const fault = registerUrlProblem('register', place.url, 'allowed');
  if (fault) throw new Refusal([fault]);
  const { PostgresDatabase } = await import('./postgres/database.js');
  return new RegisterStore(new PostgresDatabase(place.url, deps, access), deps);
}

/** Makes the roles for the users of a register on a server. Throws a Refusal (exit 2) for one in a file. */
export async function makeRegisterRoles(
  place: RegisterPlace,
  deps: RegisterDeps,
): Promise<Readonly<Record<'bench' | 'keeper' | 'reader', string>>> {
  if (place.kind === 'sqlite') throw refuse('register.no-roles', place.file, {});
  const fault = registerUrlProblem('register', place.url, 'allowed');
  if (fault) throw new Refusal([fault]);
  const { PostgresDatabase } = await import('./postgres/database.js');
  const database = new PostgresDatabase(place.url, deps);
  try {
    return await database.makeRoles();
  } finally {
    await database.close();
  }
}
