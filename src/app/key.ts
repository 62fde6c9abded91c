import { assertKeysOutside, makeKey, readKey } from '../register/log/keys.js';
import { type Signer, verifierLine } from '../register/log/note.js';
import { originOf } from '../register/log/origin.js';
import { openRegister } from '../register/open.js';
import type { Environment } from './environment.js';
import { refuse } from './messages.js';
import { openDocuments, registerPlace } from './open-documents.js';
import { registerDeps } from './register-deps.js';
import { logOrigin } from './sign-log.js';
import { writeWhole } from './whole-file.js';

/** Whose key is meant: by the maker's name, or that of the log of a workshop. */
export interface KeyOwner {
  readonly name?: string;
  readonly workshop: string;
  readonly environment: Environment;
}

export interface PublicKey {
  readonly origin: string;
  /** The public key as one line, for others. */
  readonly line: string;
  readonly folder: string;
}

/** Makes the key of a maker; `out` takes its public part too. Throws a Refusal: exit 3 when there is one. */
export async function newKey(owner: KeyOwner, out?: string): Promise<PublicKey> {
  const folder = owner.environment.keysFolder;
  await assertKeysOutside(folder, owner.workshop);
  const origin = await originFor(owner);
  return publish(await makeKey(folder, origin), folder, out);
}

/** The public key of a maker. Throws a Refusal: exit 2 when there is no key here. */
export async function showKey(owner: KeyOwner, out?: string): Promise<PublicKey> {
  const folder = owner.environment.keysFolder;
  const origin = await originFor(owner);
  const signer = await readKey(folder, origin);
  if (signer) return publish(signer, folder, out);
  throw refuse('key.none', folder, { origin });
}

async function publish(signer: Signer, folder: string, out: string | undefined): Promise<PublicKey> {
  const line = verifierLine(signer);
  if (out !== undefined)
    await writeWhole(out, [line], { replaces: (head) => head.startsWith(`${signer.name}+`) });
  return { origin: signer.name, folder, line };
}

async function originFor({ name, workshop: dir, environment }: KeyOwner): Promise<string> {
  if (name !== undefined) return originOf(name);
  const workshop = await openDocuments(dir, environment);
  const register = await openRegister(registerPlace(workshop), registerDeps);
  try {
    return logOrigin(workshop, (await register.checkpoints()).at(-1));
  } finally {
    await register.close();
  }
}
