import type { Register, Surroundings } from './register.js';
import { SqliteRegister } from './sqlite/store.js';

/** Opens the register of a workshop. Nothing is touched before it is used; the first issue makes the file. */
export async function openRegister(file: string, surroundings: Surroundings): Promise<Register> {
  return new SqliteRegister(file, surroundings);
}
