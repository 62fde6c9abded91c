import { z } from 'zod';
import { id } from '../../documents/schema/scalar.js';
import { parseJson } from '../../parse-json.js';
import type { Refusal } from '../../problem.js';
import { MerkleAccumulator } from '../log/merkle-accumulator.js';
import type { RawEvent, StoredCheckpoint } from '../register.js';
import { refuse } from './messages.js';

/**
 * A register as JSON lines: a head, its checkpoints, its events in sequence, and an end with their number and root. Text
 * and hash of every event are as the register has them.
 */

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
/** Terms may name a million excluded numbers. */
const LONGEST_BODY = 16_000_000;
/** No line of an export has more characters: each of the body may be written as six. */
export const LONGEST_LINE = 6 * LONGEST_BODY + 1000;
const event = z.strictObject({ seq: z.int().min(0), leaf: hash, body: z.string().max(LONGEST_BODY) });
const end = z.strictObject({ events: z.int().min(0), root: hash });
const entry = z.union([event, checkpoint, end]);
type Entry = z.infer<typeof entry>;

/**
 * The lines of an export. `edition`: the one edition that the events are of. To the events of one edition no checkpoint
 * was ever signed: none is to be given then.
 */
export async function* jsonLines(
  events: AsyncIterable<RawEvent>,
  checkpoints: readonly StoredCheckpoint[],
  edition?: string,
): AsyncGenerator<string> {
  yield JSON.stringify({ kind: 'register', version: 1, ...(edition !== undefined && { edition }) });
  for (const { size, note, frontier } of checkpoints)
    yield JSON.stringify({ size, note, frontier: frontier.map((root) => root.toString('base64')) });
  const log = new MerkleAccumulator();
  for await (const { seq, body, leaf } of events) {
    log.add(leaf);
    yield JSON.stringify({ seq, leaf: leaf.toString('base64'), body });
  }
  // Shows that nothing is missing at the end.
  yield JSON.stringify({ events: log.size, root: log.root().toString('base64') });
}

/** Reads an export line by line: a register of a million events is larger than the memory should be. */
export class JsonLinesReader {
  readonly #file: string;
  readonly #lines: AsyncIterator<string>;
  #line = 0;
  #next: Entry | undefined;

  /** `file` is for messages. */
  constructor(file: string, lines: AsyncIterable<string>) {
    this.#file = file;
    this.#lines = lines[Symbol.asyncIterator]();
  }

  async head(): Promise<z.infer<typeof head>> {
    const read = head.safeParse(parseJson((await this.#text()) ?? ''));
    if (read.success) return read.data;
    throw refuse('restore.not-an-export', this.#file, {});
  }

  async checkpoints(): Promise<StoredCheckpoint[]> {
    const checkpoints: StoredCheckpoint[] = [];
    for (;;) {
      this.#next = await this.#entry();
      if (!this.#next || !('note' in this.#next)) return checkpoints;
      checkpoints.push(this.#next);
    }
  }

  /**
   * The events. Throws a Refusal (exit 3) unless the last line says that these were all. `renumber` counts the places of
   * a selection from 0.
   */
  async *events(renumber: boolean): AsyncGenerator<RawEvent> {
    const log = new MerkleAccumulator();
    for (let next = this.#next; ; next = await this.#entry()) {
      if (!next) throw this.#damaged('restore.cut-short');
      if ('body' in next) {
        yield { ...next, seq: renumber ? log.size : next.seq };
        log.add(next.leaf);
        continue;
      }
      if (!('root' in next)) throw this.#damaged('restore.checkpoint-among-events');
      if (next.events !== log.size || !log.root().equals(next.root))
        throw this.#damaged('restore.other-events');
      if ((await this.#text()) !== undefined) throw this.#damaged('restore.lines-after-end');
      return;
    }
  }

  async #entry(): Promise<Entry | undefined> {
    const text = await this.#text();
    if (text === undefined) return undefined;
    const read = entry.safeParse(parseJson(text));
    if (read.success) return read.data;
    throw this.#damaged('restore.line-unreadable');
  }

  async #text(): Promise<string | undefined> {
    const next = await this.#lines.next();
    this.#line++;
    return next.done ? undefined : next.value;
  }

  #damaged(
    code:
      | 'restore.cut-short'
      | 'restore.checkpoint-among-events'
      | 'restore.other-events'
      | 'restore.lines-after-end'
      | 'restore.line-unreadable',
  ): Refusal {
    return refuse(code, `${this.#file}: line ${this.#line}`, {});
  }
}
