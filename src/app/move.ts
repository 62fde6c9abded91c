import { registerName, registerUrlProblem } from '../documents/check/register-url.js';
import { Refusal, refuse } from '../problem.js';
import { Frontier } from '../register/log/tree.js';
import { openRegister } from '../register/open.js';
import type { Register } from '../register/register.js';
import { migrateStore } from '../register/sqlite/migrate-store.js';
import type { Environment } from './environment.js';
import { registerDeps } from './issue.js';
import { registerFile, type Workshop } from './workshop.js';

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
 * Moves the register of a workshop from its file to a server, text and hash of every event as they are. Benches that use
 * the file wait meanwhile, and are refused afterwards. Throws a Refusal: exit 2 for a wrong URL or a server out of reach,
 * 3 when the server has a register of its own or does not hold the very same afterwards; the file is then as it was.
 */
export async function moveRegister(
  { dir, environment }: Pick<Workshop, 'dir' | 'environment'>,
  to: string,
): Promise<Moved> {
  const fault = registerUrlProblem('--to', to, 'refused');
  if (fault) throw new Refusal([fault]);
  const file = registerFile(dir);
  const name = registerName(to);
  const source = await openRegister({ kind: 'sqlite', file }, registerDeps);
  const target = await openRegister({ kind: 'postgres', url: withSecrets(to, environment) }, registerDeps);
  try {
    return await migrateStore(file, name, registerDeps, async () => {
      // Not empty, and yet the same: an earlier move was broken off after the copying. It is brought to its end.
      if ((await target.size()) === 0) await target.restore(source.events(), await source.checkpoints());
      return { from: file, to: name, ...(await compared(source, target, name)) };
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

/**
 * Reads both, text and hash; throws a Refusal (exit 3) unless the server has everything the file has, in the same places.
 * It may have more by now: a bench that knew of the move did not wait.
 */
async function compared(
  source: Register,
  target: Register,
  name: string,
): Promise<Pick<Moved, 'events' | 'checkpoints' | 'root'>> {
  const other = (what: string) =>
    refuse(3, name, `${what}; the register stays where it is.`, 'Name an empty database.');
  const logs = { source: new Frontier(), target: new Frontier() };
  const there = target.events()[Symbol.asyncIterator]();
  for await (const here of source.events()) {
    const { value, done } = await there.next();
    if (done) throw other(`It has the first ${logs.target.size} events only`);
    if (value.body !== here.body || !value.leaf.equals(here.leaf)) {
      throw other(`Its event ${here.seq} is another`);
    }
    logs.source.add(here.leaf);
    logs.target.add(value.leaf);
  }
  if (!logs.source.root().equals(logs.target.root())) throw other('Its log has another root');
  const taken = new Map((await target.checkpoints()).map(({ size, note }) => [size, note]));
  const kept = await source.checkpoints();
  if (kept.some(({ size, note }) => taken.get(size) !== note)) throw other('Its checkpoints are others');
  return { events: logs.target.size, checkpoints: kept.length, root: logs.target.root().toString('hex') };
}
