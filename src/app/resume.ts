import { historyOf, type KeyHistory } from '../register/log/key-history.js';
import { readHistory, readKey } from '../register/log/keys.js';
import { originOf } from '../register/log/origin.js';
import { refuse as refuseRegister } from '../register/messages.js';
import type { Register, ResumeResult, StoredCheckpoint } from '../register/register.js';
import { checkpointFault } from '../register/resumption/checkpoint-fault.js';
import { currentTerms } from './current-terms.js';
import { readIfThere } from './input-file.js';
import { refuse } from './messages.js';
import type { OpenDocuments } from './open-documents.js';
import { openForEntry } from './open-for-entry.js';
import { sha256 } from './output-list.js';
import { readKeyFile } from './public-keys.js';
import { logOrigin, signAfter, type TellProblem } from './sign-log.js';
import { statementFile } from './statement-file.js';

export interface ResumeOrder {
  /** The place in the sequence of the entry, or the size of the checkpoint. */
  readonly entry?: number;
  readonly checkpoint?: number;
  readonly by: string;
  /** Another person, who confirms it. */
  readonly witness: string;
  readonly why: string;
  /** A file with the maker's public key or history of keys; by those of this machine when left out. */
  readonly key?: string;
  /** Only says what it would come to. */
  readonly dryRun?: boolean;
}

/**
 * Goes on past an entry of the register, or past a checkpoint kept in it, with which something is wrong; signs the log.
 * Throws a Refusal: exit 2 for a wrong order, 3 where nothing is wrong, or it is the register itself that is.
 */
export async function resumeRegister(
  workshop: OpenDocuments,
  order: ResumeOrder,
  notSigned: TellProblem = () => undefined,
): Promise<ResumeResult> {
  const { entry, checkpoint: size, by, witness, why, dryRun } = order;
  if ((entry === undefined) === (size === undefined)) throw refuse('resume.one-thing', 'burin resume', {});
  const register = await openForEntry(workshop, 'mending');
  try {
    const checkpoint = size === undefined ? undefined : await keptOfSize(register, size);
    const found = checkpoint && (await faultOfCheckpoint(workshop, register, checkpoint, order));
    const { editions } = workshop.documents;
    const request = {
      ...{ entry, checkpoint, by, witness, why },
      edition: [...editions.keys()][0],
      terms: (id: string) => {
        const edition = editions.get(id);
        return edition && currentTerms(workshop, edition);
      },
    };
    if (entry !== undefined)
      await checkNoStatement(workshop, register, entry, await register.checkResume(request));
    const done = await (dryRun ? register.checkResume(request) : register.resume(request));
    if (!dryRun) await signAfter(workshop, register, notSigned);
    return { ...done, ...(found && { reason: found }) };
  } finally {
    await register.close();
  }
}

/** Of a closing of which the register has only a hash, the file shows that it was right. */
async function checkNoStatement(
  workshop: OpenDocuments,
  register: Register,
  entry: number,
  { reason }: ResumeResult,
): Promise<void> {
  if (reason?.code !== 'register.statement-unknown') return;
  const closing = (await register.closings()).find(({ seq }) => seq === entry)!;
  const { edition, statement } = JSON.parse(closing.body) as { edition: string; statement: string };
  const file = statementFile(workshop.dir, edition);
  const found = await readIfThere(file);
  if (found && sha256(found) === statement) throw refuse('resume.statement-here', file, {});
}

async function keptOfSize(register: Register, size: number): Promise<StoredCheckpoint> {
  const kept = (await register.checkpoints('all')).find((one) => one.size === size);
  if (kept) return kept;
  throw refuseRegister('register.no-such-entry', `kept checkpoint of ${size} events`, {});
}

async function faultOfCheckpoint(
  workshop: OpenDocuments,
  register: Register,
  checkpoint: StoredCheckpoint,
  { key }: ResumeOrder,
) {
  const keys = key === undefined ? await keysHere(workshop, register, checkpoint) : await readKeyFile(key);
  const found = await checkpointFault(register, checkpoint, keys);
  if (!found)
    throw refuseRegister('register.nothing-wrong', `kept checkpoint of ${checkpoint.size} events`, {
      type: 'checkpoint',
    });
  return found;
}

/** The keys of the log that this machine has. The checkpoint in question says nothing of whose log it is. */
async function keysHere(
  workshop: OpenDocuments,
  register: Register,
  checkpoint: StoredCheckpoint,
): Promise<KeyHistory | undefined> {
  const folder = workshop.environment.keysFolder;
  const others = (await register.checkpoints()).filter(({ size }) => size !== checkpoint.size);
  for (const origin of [logOrigin(workshop, others.at(-1)), originOf(workshop.documents.workshop.name)]) {
    const history = await readHistory(folder, origin);
    const signer = history ? undefined : await readKey(folder, origin);
    if (history || signer) return history ?? historyOf(signer!);
  }
  return undefined;
}
