import { join } from 'node:path';
import { placedIn, Refusal } from '../problem.js';
import { type ClockDoubt, checkToday, clockDoubt } from '../register/clock.js';
import { type Witness, witnessLine } from '../register/log/cosignature.js';
import { refuse as refuseLog } from '../register/log/messages.js';
import { answerRequest, openRequest, readRequest } from '../register/log/witness.js';
import {
  addMaker,
  makersKeys,
  makeWitness,
  openWitness,
  rememberHead,
  seenFile,
  seenHead,
} from '../register/log/witness-folder.js';
import { isNoteOf } from './checkpoint.js';
import type { Environment } from './environment.js';
import { readInput } from './input-file.js';
import { refuse } from './messages.js';
import { readKeyFile } from './public-keys.js';
import { clock } from './register-deps.js';
import { writeWhole } from './whole-file.js';

/** A witness needs no workshop and no register: all that it has is in one folder beside the keys. */
const folderOf = ({ keysFolder }: Environment): string => join(keysFolder, 'witness');

export interface PublicWitness {
  readonly name: string;
  /** The public key as one line, for others. */
  readonly line: string;
  readonly folder: string;
}

/** Makes the key of a witness; `out` takes its public part too. Throws a Refusal: exit 3 when there is one. */
export async function newWitness(
  environment: Environment,
  name: string,
  out?: string,
): Promise<PublicWitness> {
  const folder = folderOf(environment);
  return publish(await makeWitness(folder, name), folder, out);
}

/** The public key of the witness here. Throws a Refusal: exit 2 when there is none. */
export async function showWitness(environment: Environment, out?: string): Promise<PublicWitness> {
  const folder = folderOf(environment);
  return publish(await openWitness(folder), folder, out);
}

async function publish(witness: Witness, folder: string, out: string | undefined): Promise<PublicWitness> {
  const line = witnessLine(witness);
  if (out !== undefined)
    await writeWhole(out, [line], { replaces: (head) => head.startsWith(`${witness.name}+`) });
  return { name: witness.name, line, folder };
}

/** Takes a log to be witnessed, by the public key or the history of its maker; gives its origin. */
export async function addLog(environment: Environment, file: string): Promise<string> {
  const folder = folderOf(environment);
  await openWitness(folder);
  const keys = await readKeyFile(file);
  await addMaker(folder, keys);
  return keys.origin;
}

export interface Cosigned {
  readonly origin: string;
  readonly size: number;
  /** The note with the cosignature. */
  readonly note: string;
}

/** Throws a Refusal (exit 3) for a time that nobody should cosign with. `last` is that of the last cosignature. */
function checkClock(now: Date, today: string | undefined, last: number | undefined): void {
  const where = `clock ${now.toISOString()}`;
  const doubt = clockDoubt(now, last === undefined ? undefined : new Date(last * 1000).toISOString());
  if (doubt?.is === 'early') throw refuseLog('witness.clock-too-early', where, { first: doubt.bound });
  if (today !== undefined) checkToday(now, today);
  else if (doubt) throw farOf(doubt, where);
}

function farOf(doubt: ClockDoubt, where: string): Refusal {
  const bound = doubt.is === 'ahead' ? doubt.last.slice(0, 10) : doubt.bound;
  return refuseLog('witness.clock-far', where, { day: doubt.day, is: doubt.is, bound });
}

const LONGEST_REQUEST = 65_536;

/**
 * Cosigns the checkpoint of a request, and remembers it as the last of its log. Throws a Refusal: exit 2 for a log that was
 * not added, 3 for what does not continue the last head.
 */
export async function cosignRequest(
  environment: Environment,
  file: string,
  out?: string,
  now: () => Date = clock,
): Promise<Cosigned> {
  const folder = folderOf(environment);
  const witness = await openWitness(folder);
  const read = readRequest((await readInput(file, LONGEST_REQUEST)).toString('utf8'));
  if (!read.ok) throw new Refusal([placedIn(file, read.problem)]);
  const opened = openRequest(read.request);
  if (!opened.ok) throw new Refusal([placedIn(file, opened.problem)]);
  const { origin } = opened.checkpoint;
  const keys = await makersKeys(folder, origin);
  if (!keys) throw refuse('witness.log-unknown', `log ${origin}`, {});
  const seen = await seenHead(folder, origin, witness);
  const time = now();
  const { today } = environment;
  // What was cosigned before has its time already.
  if (opened.checkpoint.size !== seen?.size) checkClock(time, today, seen?.seconds);
  const seconds = Math.floor(time.getTime() / 1000);
  const answer = answerRequest(
    ...([read.request, keys, seen, witness, seconds] as const),
    today === undefined ? undefined : 'confirmed',
  );
  if (!answer.ok)
    throw new Refusal([placedIn(seen ? `${file} and ${seenFile(folder, origin)}` : file, answer.problem)]);
  const { cosigned, size } = answer;
  // First remembered, then given out: nothing is cosigned that could be forgotten.
  await rememberHead(folder, origin, cosigned);
  if (out !== undefined)
    await writeWhole(out, cosigned.slice(0, -1).split('\n'), { replaces: isNoteOf(origin) });
  return { origin, size, note: cosigned };
}
