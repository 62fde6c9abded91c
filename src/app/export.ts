import { glance } from '../register/audit/quick.js';
import { fromLeaf, type RegisterEvent } from '../register/event.js';
import { Frontier } from '../register/log/tree.js';
import { openRegister } from '../register/open.js';
import type { RawEvent, Register } from '../register/register.js';
import { csvLine } from './csv-line.js';
import { registerDeps } from './issue.js';
import { writeWhole } from './whole-file.js';
import { editionOf, registerPlace, type Workshop } from './workshop.js';

export type ExportForm = 'csv' | 'jsonl';

export interface ExportOrder {
  /** Only the events of this one; every event when left out. */
  readonly edition?: string;
  readonly form: ExportForm;
  /** The file to write. */
  readonly out: string;
}

/** Writes events of the register to a file, which is there whole or not at all. Gives how many. */
export async function exportEvents(workshop: Workshop, { edition, form, out }: ExportOrder): Promise<number> {
  return withRegister(workshop, edition, async (register) => {
    let events = 0;
    const count = () => void events++;
    await writeWhole(out, linesOf(register, edition, form, count));
    return events;
  });
}

/** As `exportEvents`, a line at a time. */
export async function exportTo(
  workshop: Workshop,
  edition: string | undefined,
  form: ExportForm,
  put: (line: string) => Promise<void>,
): Promise<void> {
  await withRegister(workshop, edition, async (register) => {
    for await (const line of linesOf(register, edition, form)) await put(line);
  });
}

async function withRegister<T>(
  workshop: Workshop,
  edition: string | undefined,
  work: (register: Register) => Promise<T>,
): Promise<T> {
  if (edition !== undefined) editionOf(workshop, edition);
  const register = await openRegister(registerPlace(workshop), registerDeps);
  try {
    return await work(register);
  } finally {
    await register.close();
  }
}

async function* linesOf(
  register: Register,
  edition: string | undefined,
  form: ExportForm,
  count = () => {},
): AsyncGenerator<string> {
  const events = eventsOf(register, edition);
  if (form === 'csv') {
    yield COLUMNS.join(',');
    for await (const { seq, body, leaf } of events) {
      count();
      yield csvOf(seq, fromLeaf(seq, { body, leaf }), leaf);
    }
    return;
  }
  yield JSON.stringify({ kind: 'register', version: 1, ...(edition !== undefined && { edition }) });
  // Of the whole log only: to the events of one edition no checkpoint was ever signed.
  for (const { size, note, frontier } of edition === undefined ? await register.checkpoints() : []) {
    yield JSON.stringify({ size, note, frontier: frontier.map((hash) => hash.toString('base64')) });
  }
  const log = new Frontier();
  for await (const { seq, body, leaf } of events) {
    count();
    log.add(leaf);
    yield JSON.stringify({ seq, leaf: leaf.toString('base64'), body });
  }
  // Shows that nothing is missing at the end.
  yield JSON.stringify({ events: log.size, root: log.root().toString('base64') });
}

async function* eventsOf(register: Register, edition: string | undefined): AsyncGenerator<RawEvent> {
  for await (const event of register.events()) {
    if (edition === undefined || editionIn(event) === edition) yield event;
  }
}

function editionIn({ seq, body, leaf }: RawEvent): string {
  // Read at a glance where that will do: of a million events most may be of another edition.
  return (glance(body) ?? fromLeaf(seq, { body, leaf })).edition;
}

const COLUMNS = [
  'seq',
  'at',
  'on',
  'edition',
  'series',
  'number',
  'label',
  'event',
  'part',
  'parts',
  'by',
  'witness',
  'to',
  'why',
  'key',
  'nth',
  'statement',
  'leaf',
];

function csvOf(seq: number, event: RegisterEvent, leaf: Buffer): string {
  const { series, number, label, part, parts, witness, to, statement } = event as Partial<
    Record<'series' | 'label' | 'part' | 'witness' | 'to' | 'statement', string>
  > & { number?: number; parts?: readonly string[] };
  const { at, on, edition, type, by, why, key, nth } = event;
  return csvLine([
    ...[seq, at, on, edition, series, number, label, type, part, parts?.join(' '), by, witness, to, why],
    ...[key, nth, statement, leaf.toString('hex')],
  ]);
}
