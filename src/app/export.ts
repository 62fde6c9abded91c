import { createReadStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import { createInterface } from 'node:readline';
import { formatCsv } from '../documents/csv/write-csv.js';
import { fromLeaf } from '../register/event.js';
import { EVENT_COLUMNS, eventRow } from '../register/export/event-table.js';
import { jsonLines } from '../register/export/json-lines.js';
import { openRegister } from '../register/open.js';
import { parseEventFast } from '../register/parse-event-fast.js';
import type { RawEvent, Register } from '../register/register.js';
import type { Resumptions } from '../register/resumption/resumptions.js';
import { checkEditionKnown, type KeptRegister } from './kept-register.js';
import { refuse } from './messages.js';
import { noProgress, type Progress } from './progress.js';
import { depsIn } from './register-deps.js';
import { missingProblem } from './register-memory.js';
import { writeWhole } from './whole-file.js';

export type ExportForm = 'csv' | 'jsonl';

export interface ExportRequest {
  /** Only the events of this one; every event when left out. */
  readonly edition?: string;
  readonly form: ExportForm;
  /** The file to write. */
  readonly out: string;
}

/** Whether a file is an earlier export, by its first bytes. */
const isExport: Readonly<Record<ExportForm, (head: string) => boolean>> = {
  csv: (head) => head.startsWith(EVENT_COLUMNS.slice(0, 8).join(',')),
  jsonl: (head) => head.startsWith('{"kind":"register",'),
};

/** Writes events of the register to a file, which is there whole or not at all. Gives how many. */
export async function exportEvents(
  kept: KeptRegister,
  { edition, form, out }: ExportRequest,
  progress: Progress = noProgress,
): Promise<number> {
  return withRegister(kept, edition, async (register) => {
    let events = 0;
    const count = () => void events++;
    const of = await register.size();
    const lines = linesOf(register, edition, form, { count, read: (seq) => progress('events', seq + 1, of) });
    await writeWhole(out, lines, {
      replaces: isExport[form],
      isPrivate: true,
      assertKeeps: (old, fresh) => assertNothingLost(out, form, old, fresh),
    });
    return events;
  });
}

/**
 * Only an export of the same register is replaced, and none that is longer: a register only grows, so that one may hold what
 * the register has lost. Throws a Refusal (exit 3).
 */
async function assertNothingLost(out: string, form: ExportForm, old: string, fresh: string): Promise<void> {
  const first = await firstEvent(old, form);
  if (first === undefined) return;
  const isOther = first !== (await firstEvent(fresh, form));
  const [before, now] = await Promise.all([old, fresh].map((file) => stat(file)));
  if (isOther || before!.size > now!.size)
    throw refuse('export.would-lose', out, { what: isOther ? 'other' : 'more' });
}

/** The line of the first event of an export; undefined where it has none. */
async function firstEvent(file: string, form: ExportForm): Promise<string | undefined> {
  const input = createReadStream(file);
  const lines = createInterface({ input, crlfDelay: Number.POSITIVE_INFINITY });
  try {
    let number = 0;
    for await (const line of lines) {
      number++;
      if (form === 'csv' ? number === 2 : line.startsWith('{"seq":')) return line;
    }
    return undefined;
  } finally {
    lines.close();
    input.destroy();
  }
}

/** As `exportEvents`, some lines at a time. */
export async function exportTo(
  kept: KeptRegister,
  edition: string | undefined,
  form: ExportForm,
  put: (lines: string) => Promise<void>,
): Promise<void> {
  await withRegister(kept, edition, async (register) => {
    for await (const lines of linesOf(register, edition, form)) await put(lines);
  });
}

async function withRegister<T>(
  kept: KeptRegister,
  edition: string | undefined,
  work: (register: Register) => Promise<T>,
): Promise<T> {
  const register = await openRegister(kept.place, depsIn(kept), 'read whole');
  try {
    const missing = await missingProblem(kept.workshop, register);
    if (missing) await kept.warn?.(missing);
    if (edition !== undefined) await checkEditionKnown(kept, register, edition);
    return await work(register);
  } finally {
    await register.close();
  }
}

/** Rows formatted at once: the writer of CSV costs most where it begins. */
const BATCH = 500;

/** Told of each event that is written, and of each that is read. */
interface Counters {
  readonly count: () => void;
  readonly read: (seq: number) => void;
}

async function* linesOf(
  register: Register,
  edition: string | undefined,
  form: ExportForm,
  { count, read }: Counters = { count: () => undefined, read: () => undefined },
): AsyncGenerator<string> {
  const resumptions = await register.resumptions();
  const events = countEvents(eventsOf(register, edition, resumptions, read), count);
  if (form === 'jsonl') {
    yield* jsonLines(events, edition === undefined ? await register.checkpoints() : [], edition);
    return;
  }
  yield formatCsv([EVENT_COLUMNS]);
  let rows = [];
  for await (const event of events) {
    rows.push(eventRow(event, resumptions));
    if (rows.length < BATCH) continue;
    yield formatCsv(rows);
    rows = [];
  }
  if (rows.length > 0) yield formatCsv(rows);
}

async function* countEvents(events: AsyncIterable<RawEvent>, count: () => void): AsyncGenerator<RawEvent> {
  for await (const event of events) {
    count();
    yield event;
  }
}

async function* eventsOf(
  register: Register,
  edition: string | undefined,
  resumptions: Resumptions,
  read: (seq: number) => void,
): AsyncGenerator<RawEvent> {
  for await (const event of register.events()) {
    read(event.seq);
    if (edition === undefined) yield event;
    // In a log of its own an edition has other places: what is gone past stays behind, with what says so.
    else if (!isOfResumption(event.seq, resumptions) && editionIn(event) === edition) yield event;
  }
}

const isOfResumption = (seq: number, resumptions: Resumptions): boolean =>
  resumptions.passes(seq) || resumptions.all.some((one) => one.seq === seq);

/** Of a million events most may be of another edition: they are read the fast way. */
const editionIn = ({ seq, body, leaf }: RawEvent): string =>
  (parseEventFast(body) ?? fromLeaf(seq, { body, leaf })).edition;
