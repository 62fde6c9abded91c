import { createHash } from 'node:crypto';
import { rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { type Problem, problem, refuse } from '../problem.js';
import { readKey } from '../register/log/keys.js';
import { Frontier } from '../register/log/tree.js';
import { openRegister } from '../register/open.js';
import type { Register, StoredEvent } from '../register/register.js';
import { registerDeps } from './issue.js';
import { logOrigin, signAfter, signLog } from './sign-log.js';
import { type Statement, statementOf, statementText } from './statement.js';
import { writeWhole } from './whole-file.js';
import { editionOf, registerPlace, type Workshop } from './workshop.js';

export interface CloseOrder {
  readonly edition: string;
  readonly by: string;
  readonly why?: string;
  /** Where the statement goes, without ending; `.txt` and `.json` are added. */
  readonly out?: string;
}

export interface Closed {
  readonly ok: true;
  readonly edition: string;
  readonly statement: Statement;
  /** SHA-256 of the JSON file, as it stands in the `closed` event. */
  readonly sha256: string;
  readonly text: string;
  readonly json: string;
  /** What a person should know; the closing stands. */
  readonly remarks: readonly Problem[];
}

/**
 * Closes an edition: writes its statement, then enters the statement's hash in the register, after which nothing is
 * issued. Throws a Refusal: exit 2 when nothing was issued or the files cannot be written, 3 when it is closed already.
 */
export async function closeEdition(
  workshop: Workshop,
  order: CloseOrder,
  say: (line: string) => void = () => undefined,
): Promise<Closed> {
  const { edition: id, by, why } = order;
  const edition = editionOf(workshop, id);
  const base =
    order.out?.replace(/\.(txt|json)$/, '') ?? join(workshop.dir, 'out', id, 'statement-of-edition');
  const [text, json] = [`${base}.txt`, `${base}.json`];
  const register = await openRegister(registerPlace(workshop), registerDeps);
  try {
    if (await register.isClosed(id)) {
      throw refuse(
        3,
        `edition ${id}`,
        'It was closed before.',
        'An edition is closed once; nothing is left to do.',
      );
    }
    const replay = await register.statuses(id);
    if (!replay.some(({ pieces }) => pieces > 0)) {
      throw refuse(
        2,
        `edition ${id}`,
        'Nothing was issued in it.',
        'Close an edition once its pieces are made.',
      );
    }
    await mustBeNew(text, json);
    const log = await logOf(workshop, register);
    const statement = statementOf({
      ...{ id, edition, replay, by, log, checkpoint: log.checkpoint },
      at: registerDeps.now().toISOString(),
      document: workshop.digests.get(`edition/${id}`)!,
      maker: workshop.documents.workshop.name,
      voidEvents: await voidEventsOf(
        register,
        id,
        replay.filter(({ state }) => state === 'void').map(({ label }) => label),
      ),
    });
    const whole = JSON.stringify(statement, null, 2);
    const sha256 = createHash('sha256').update(`${whole}\n`, 'utf8').digest('hex');
    // On the disk before the register speaks of it; taken away again when the register does not.
    await writeWhole(json, [whole]);
    await writeWhole(text, statementText(statement, sha256));
    try {
      await register.closeEdition({ edition: id, statement: sha256, by, why });
    } catch (error) {
      await Promise.all([text, json].map((file) => rm(file, { force: true })));
      throw error;
    }
    const remarks = [...log.remarks, ...(await late(register, log.size))];
    if (log.checkpoint !== undefined) await signAfter(workshop, register, say);
    return { ok: true, edition: id, statement, sha256, text, json, remarks };
  } finally {
    await register.close();
  }
}

async function mustBeNew(...files: readonly string[]): Promise<void> {
  for (const file of files) {
    if (await stat(file).catch(() => undefined)) {
      throw refuse(2, file, 'is there already.', 'Move it away, or name another with --out.');
    }
  }
}

interface Log {
  readonly size: number;
  readonly root: Buffer;
  readonly checkpoint?: string;
  readonly remarks: readonly Problem[];
}

/** The log as it stands, signed where this machine has the key. */
async function logOf(workshop: Workshop, register: Register): Promise<Log> {
  const origin = logOrigin(workshop, (await register.checkpoints()).at(-1));
  if (await readKey(workshop.environment.keysFolder, origin)) {
    const { size, root, note } = await signLog(workshop, register);
    return { size, root, checkpoint: note, remarks: [] };
  }
  const log = new Frontier();
  for await (const { leaf } of register.events()) log.add(leaf);
  const what = 'There is no key here to sign it.';
  const unsigned = problem(
    `log ${origin}`,
    what,
    'Sign a checkpoint where the key is, and keep it with the statement.',
  );
  return { size: log.size, root: log.root(), remarks: [unsigned] };
}

async function voidEventsOf(
  register: Register,
  edition: string,
  labels: readonly string[],
): Promise<Map<string, StoredEvent>> {
  const events = new Map<string, StoredEvent>();
  for (const label of labels) {
    const last = (await register.history(edition, label)).at(-1);
    if (last) events.set(label, last);
  }
  return events;
}

/** Others may have entered something while the statement was written. */
async function late(register: Register, size: number): Promise<Problem[]> {
  const more = (await register.size()) - size - 1;
  if (more <= 0) return [];
  const what = `${more} events were entered while the statement was written; it tells of the first ${size}.`;
  return [problem('statement', what, 'See `burin audit` for what they are.')];
}
