import { registerName, registerUrlProblem } from '../documents/check/register-url.js';
import { Refusal } from '../problem.js';
import { compareRegisters } from '../register/compare.js';
import { openRegister } from '../register/open.js';
import { migrateStore } from '../register/sqlite/migrate-store.js';
import type { Environment } from './environment.js';
import { type OpenDocuments, registerFile } from './open-documents.js';
import { holdAgainstMemory } from './open-for-entry.js';
import { depsIn, registerDeps } from './register-deps.js';

export interface Moved {
  readonly from: string;
  /** Host and database. */
  readonly to: string;
  readonly events: number;
  readonly checkpoints: number;
  /** Root of the log, hex: the same in both places. */
  readonly root: string;
}

/**
 * Moves the register of a workshop from its file to a server, text and hash of every event as they are. Machines that use
 * the file wait meanwhile, and are refused afterwards. Throws a Refusal: exit 2 for a wrong URL or a server out of reach,
 * 3 when the file is not the register that this machine saw last, or the server has a register of its own or does not hold
 * the very same afterwards; the file is then as it was.
 */
export async function moveRegister(workshop: OpenDocuments, to: string): Promise<Moved> {
  const { dir, environment } = workshop;
  const fault = registerUrlProblem('--to', to, 'refused');
  if (fault) throw new Refusal([fault]);
  const file = registerFile(dir);
  const name = registerName(to);
  const source = await openRegister({ kind: 'sqlite', file }, registerDeps);
  const target = await openRegister(
    { kind: 'postgres', url: withSecrets(to, environment) },
    depsIn(environment),
  );
  try {
    await holdAgainstMemory(workshop, source);
    return await migrateStore(file, name, registerDeps, async () => {
      // A target that is not empty and yet the same: an earlier move was interrupted after the copying, and is completed.
      if ((await target.size()) === 0)
        await target.restore(source.events(), await source.checkpoints(), await source.resumptions());
      return { from: file, to: name, ...(await compareRegisters(source, target, name)) };
    });
  } finally {
    await source.close();
    await target.close();
  }
}

/** The environment may hold the whole URL of the same database, with its password. */
function withSecrets(to: string, { registerUrl: whole }: Environment): string {
  if (!whole || registerUrlProblem('', whole, 'allowed')) return to;
  return registerName(whole) === registerName(to) ? whole : to;
}
