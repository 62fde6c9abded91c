import { type FileHandle, open } from 'node:fs/promises';
import { z } from 'zod';
import { id } from '../documents/schema/scalar.js';
import { Refusal, refuse } from '../problem.js';
import { Frontier } from '../register/log/tree.js';
import { openRegister } from '../register/open.js';
import type { RawEvent, StoredCheckpoint } from '../register/register.js';
import { diskProblem } from './disk.js';
import { registerDeps } from './issue.js';
import { registerPlace, type Workshop } from './workshop.js';

const hash = z
  .base64()
  .length(44)
  .transform((text) => Buffer.from(text, 'base64'));
const head = z.strictObject({ kind: z.literal('register'), version: z.literal(1), edition: id.optional() });
const checkpoint = z.strictObject({
  size: z.int().min(0),
  note: z.string().max(100_000),
  frontier: z.array(hash).max(64),
});
const event = z.strictObject({ seq: z.int().min(0), leaf: hash, body: z.string().max(100_000) });
const end = z.strictObject({ events: z.int().min(0), root: hash });
const entry = z.union([event, checkpoint, end]);
type Entry = z.infer<typeof entry>;

export interface Restored {
  readonly events: number;
  readonly checkpoints: number;
  /** The one edition the file holds; every one when absent. */
  readonly edition?: string;
}

/**
 * Takes the events of an exported register into an empty one, all of them or none. Throws a Refusal: exit 2 for a file
 * that is no such export, 3 for one that is damaged, cut short, or holds what cannot have happened.
 */
export async function restoreRegister(workshop: Workshop, file: string): Promise<Restored> {
  const handle = await opened(file);
  const lines = new ExportLines(file, handle);
  const register = await openRegister(registerPlace(workshop), registerDeps);
  try {
    const { edition } = await lines.head();
    const checkpoints = await lines.checkpoints();
    await register.restore(lines.events(edition !== undefined), checkpoints);
    return { events: await register.size(), checkpoints: checkpoints.length, edition };
  } catch (error) {
    const found = diskProblem(error, file);
    throw found ? new Refusal(2, [found]) : error;
  } finally {
    await register.close();
    await handle.close();
  }
}

async function opened(file: string): Promise<FileHandle> {
  try {
    const handle = await open(file);
    if (!(await handle.stat()).isDirectory()) return handle;
    await handle.close();
  } catch (error) {
    const found = diskProblem(error, file);
    throw found ? new Refusal(2, [found]) : error;
  }
  throw refuse(2, file, 'is a folder.', 'Name a file.');
}

/** Reads an export line by line: a register of a million events is larger than the memory should be. */
class ExportLines {
  readonly #file: string;
  readonly #lines: AsyncIterator<string>;
  #line = 0;
  #next: Entry | undefined;

  constructor(file: string, handle: FileHandle) {
    this.#file = file;
    // The handle is closed by whoever opened it, also when the reading ends early.
    this.#lines = handle.readLines({ encoding: 'utf8', autoClose: false })[Symbol.asyncIterator]();
  }

  async head(): Promise<z.infer<typeof head>> {
    const read = head.safeParse(parsed((await this.#text()) ?? ''));
    if (read.success) return read.data;
    throw refuse(
      2,
      this.#file,
      'It is no exported register that this program knows.',
      'Give a file that `burin export --jsonl` wrote.',
    );
  }

  async checkpoints(): Promise<StoredCheckpoint[]> {
    const kept: StoredCheckpoint[] = [];
    for (;;) {
      this.#next = await this.#entry();
      if (!this.#next || !('note' in this.#next)) return kept;
      kept.push(this.#next);
    }
  }

  /** Ends well only when the last line says that this was all. `anew` counts the places of a selection from 0. */
  async *events(anew: boolean): AsyncGenerator<RawEvent> {
    const log = new Frontier();
    for (let next = this.#next; ; next = await this.#entry()) {
      if (!next) throw this.#damaged('It was cut short: its last line is missing.');
      if ('body' in next) {
        yield { ...next, seq: anew ? log.size : next.seq };
        log.add(next.leaf);
        continue;
      }
      if (!('root' in next)) throw this.#damaged('A checkpoint stands among the events.');
      if (next.events !== log.size || !log.root().equals(next.root))
        throw this.#damaged('Its last line is for other events: some are missing, changed or out of order.');
      if ((await this.#text()) !== undefined) throw this.#damaged('Something follows its last line.');
      return;
    }
  }

  async #entry(): Promise<Entry | undefined> {
    const text = await this.#text();
    if (text === undefined) return undefined;
    const read = entry.safeParse(parsed(text));
    if (read.success) return read.data;
    throw this.#damaged('It is not a line of an exported register.');
  }

  async #text(): Promise<string | undefined> {
    const next = await this.#lines.next();
    this.#line++;
    return next.done ? undefined : next.value;
  }

  #damaged(what: string): Refusal {
    return refuse(
      3,
      `${this.#file}: line ${this.#line}`,
      `${what} Nothing was taken over.`,
      'Export again, or take another copy.',
    );
  }
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
