import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { placedIn, Refusal } from '../problem.js';
import { formatNote, mergeSignatures, type Witness } from '../register/log/cosignature.js';
import { proveExtension } from '../register/log/event-proofs.js';
import { extendLog } from '../register/log/extend-log.js';
import { historyOf, signingKey } from '../register/log/key-history.js';
import { readHistory, readKey } from '../register/log/keys.js';
import { MerkleAccumulator } from '../register/log/merkle-accumulator.js';
import {
  type Checkpoint,
  checkpointText,
  type Note,
  openCheckpoint,
  readCheckpoint,
  readNote,
  type Signer,
} from '../register/log/note.js';
import { formatRequest, isRequest } from '../register/log/witness.js';
import { openRegister } from '../register/open.js';
import type { Register } from '../register/register.js';
import { isNoteOf } from './checkpoint.js';
import { readIfThere, readInput } from './input-file.js';
import { refuse } from './messages.js';
import { type OpenDocuments, registerPlace } from './open-documents.js';
import { openForEntry } from './open-for-entry.js';
import { depsIn } from './register-deps.js';
import { logOrigin, signLog } from './sign-log.js';
import { writeWhole } from './whole-file.js';
import { type Seen, seenBy } from './witnesses.js';

/** Bytes of a checkpoint or a public key: far more than any needs. */
const LONGEST_NOTE = 65_536;

/**
 * Checkpoints with the cosignatures of witnesses, in the workshop: they are no secret, belong to its papers, and are copied
 * with it. The register keeps one note for a size and never changes it, and cosignatures come later and one by one.
 */
const FOLDER = 'cosigned';
const fileFor = (size: number): string => `${size}.checkpoint`;

async function checkpointIn(file: string): Promise<{ note: Note; checkpoint: Checkpoint }> {
  const read = readNote((await readInput(file, LONGEST_NOTE)).toString('utf8'));
  if (!read.ok) throw new Refusal([placedIn(file, read.problem)]);
  const opened = readCheckpoint(read.note);
  if (!opened.ok) throw new Refusal([placedIn(file, opened.problem)]);
  return { note: read.note, checkpoint: opened.checkpoint };
}

export interface RequestMade {
  readonly origin: string;
  readonly size: number;
  /** How many events the witness saw last. */
  readonly old: number;
  readonly request: string;
}

/**
 * Signs the log as it stands, and makes what a witness cosigns: the checkpoint, with the proof that it continues the last
 * that this witness cosigned. `last` is the file of that one; left out when there is none. Throws a Refusal (exit 3) where
 * the register does not continue it.
 */
export async function requestFor(
  workshop: OpenDocuments,
  last: string | undefined,
  out?: string,
): Promise<RequestMade> {
  const register = await openForEntry(workshop);
  try {
    const before = last === undefined ? undefined : (await checkpointIn(last)).checkpoint;
    const made = await signLog(workshop, register);
    const { origin, size } = made;
    if (before && before.origin !== origin)
      throw refuse('witness.note-of-other-log', last!, { origin: before.origin, name: origin });
    const proof = before ? await proveExtension(register, before, made, last!) : [];
    const old = before?.size ?? 0;
    const request = formatRequest({ old, proof, note: made.note });
    if (out !== undefined) await writeWhole(out, request.slice(0, -1).split('\n'), { replaces: isRequest });
    return { origin, size, old, request };
  } finally {
    await register.close();
  }
}

export interface CosignedKept {
  readonly origin: string;
  readonly size: number;
  readonly seen: readonly Seen[];
  /** In the workshop. */
  readonly file: string;
}

/**
 * Keeps a checkpoint that came back from these witnesses, with their cosignatures beside those that are kept already.
 * Throws a Refusal: exit 1 where a witness did not cosign it, 3 where it is not of this register.
 */
export async function keepCosigned(
  workshop: OpenDocuments,
  file: string,
  witnesses: readonly Witness[],
): Promise<CosignedKept> {
  const { note, checkpoint } = await checkpointIn(file);
  const { size } = checkpoint;
  const register = await openRegister(registerPlace(workshop), depsIn(workshop.environment));
  try {
    const origin = logOrigin(workshop, (await register.checkpoints()).at(-1));
    if (note.text !== checkpointText({ ...checkpoint, origin }))
      throw refuse('witness.not-ours', file, { origin });
    const folder = workshop.environment.keysFolder;
    const signer = await readKey(folder, origin);
    const keys = (await readHistory(folder, origin)) ?? (signer && historyOf(signer));
    if (!keys) throw refuse('key.none', folder, { origin });
    const by = signingKey(note, size, keys);
    if (!by.ok) throw new Refusal([placedIn(file, by.problem)]);
    const seen = seenBy(note, witnesses, file);
    await checkRoot(register, checkpoint, file);
    const known = [by.key.verifier, ...witnesses];
    const checked = note.signatures.filter((one) =>
      known.some(({ name, keyHash }) => one.name === name && one.keyHash.equals(keyHash)),
    );
    const target = join(workshop.dir, FOLDER, fileFor(size));
    const before = await keptNote(target);
    const own = { text: note.text, signatures: checked };
    const kept = before?.text === own.text ? mergeSignatures(before, own) : own;
    await writeWhole(target, formatNote(kept).slice(0, -1).split('\n'), { replaces: isNoteOf(origin) });
    return { origin, size, seen, file: join(FOLDER, fileFor(size)) };
  } finally {
    await register.close();
  }
}

/** Throws a Refusal (exit 3) unless the register began with the events that a checkpoint was signed for. */
async function checkRoot(
  register: Pick<Register, 'events' | 'resumptions'>,
  { size, root }: Checkpoint,
  where: string,
): Promise<void> {
  const log = new MerkleAccumulator();
  const fault = await extendLog(log, register.events(), {
    resumptions: await register.resumptions(),
    upTo: size,
  });
  if (fault || log.size < size || !log.root().equals(root))
    throw refuse('witness.other-register', where, { size });
}

async function keptNote(file: string): Promise<Note | undefined> {
  const bytes = await readIfThere(file);
  if (!bytes) return undefined;
  const read = readNote(bytes.toString('utf8'));
  if (read.ok) return read.note;
  throw refuse('witness.kept-unreadable', file, { reason: read.problem });
}

/**
 * The newest checkpoint with a cosignature, of this key, that covers the event at a place; undefined when there is none.
 * One that a certificate could not hold is passed over.
 */
export async function newestCosigned(
  workshop: OpenDocuments,
  signer: Signer,
  lastSeq: number,
  longest: number,
): Promise<(Checkpoint & { readonly note: string }) | undefined> {
  const folder = join(workshop.dir, FOLDER);
  const names = await readdir(folder).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return [];
    throw error;
  });
  const sizes = names.flatMap((name) =>
    /^[1-9]\d{0,14}\.checkpoint$/.test(name) ? Number.parseInt(name, 10) : [],
  );
  for (const size of sizes.filter((one) => one > lastSeq).sort((a, b) => b - a)) {
    const kept = await keptNote(join(folder, fileFor(size)));
    const note = kept && formatNote(kept);
    const opened = note === undefined ? undefined : openCheckpoint(note, signer);
    if (opened?.ok && opened.checkpoint.size === size && note!.length <= longest)
      return { ...opened.checkpoint, note: note! };
  }
  return undefined;
}
