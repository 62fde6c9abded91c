import { refuse } from '../problem.js';
import { makeKey, mustBeOutside, readKey } from '../register/log/keys.js';
import { type Signer, verifierLine } from '../register/log/note.js';
import { originOf } from '../register/log/origin.js';
import { openRegister } from '../register/open.js';
import type { Environment } from './environment.js';
import { registerDeps } from './issue.js';
import { logOrigin } from './sign-log.js';
import { writeWhole } from './whole-file.js';
import { openWorkshop, registerPlace } from './workshop.js';

/** Whose key is meant: by the maker's name, or that of the log of a workshop. */
export interface WhoseKey {
  readonly name?: string;
  readonly workshop: string;
  readonly environment: Environment;
}

export interface ShownKey {
  readonly origin: string;
  /** The public key as one line, for others. */
  readonly line: string;
  readonly folder: string;
}

/** Makes the key of a maker; `out` takes its public part too. Throws a Refusal: exit 3 when there is one. */
export async function newKey(whose: WhoseKey, out?: string): Promise<ShownKey> {
  const folder = whose.environment.keysFolder;
  await mustBeOutside(folder, whose.workshop);
  const origin = await originFor(whose);
  return shown(await makeKey(folder, origin), folder, out);
}

/** The public key of a maker. Throws a Refusal: exit 2 when there is no key here. */
export async function showKey(whose: WhoseKey, out?: string): Promise<ShownKey> {
  const folder = whose.environment.keysFolder;
  const origin = await originFor(whose);
  const signer = await readKey(folder, origin);
  if (signer) return shown(signer, folder, out);
  throw refuse(2, folder, `There is no key of ${origin}.`, '`burin key new` makes one.');
}

async function shown(signer: Signer, folder: string, out: string | undefined): Promise<ShownKey> {
  const line = verifierLine(signer);
  if (out !== undefined) await writeWhole(out, [line]);
  return { origin: signer.name, folder, line };
}

async function originFor({ name, workshop: dir, environment }: WhoseKey): Promise<string> {
  if (name !== undefined) return originOf(name);
  const workshop = await openWorkshop(dir, environment);
  const register = await openRegister(registerPlace(workshop), registerDeps);
  try {
    return logOrigin(workshop, (await register.checkpoints()).at(-1));
  } finally {
    await register.close();
  }
}
