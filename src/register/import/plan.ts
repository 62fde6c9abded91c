import type { CsvRow } from '../../documents/csv/read-csv.js';
import type { Problem } from '../../problem.js';
import type { NumberStatus } from '../lifecycle.js';
import type { PastEvent, Register, StoredEvent } from '../register.js';
import { problem } from './messages.js';
import { type ImportContext, type PastRow, readRow, whereOfRow } from './row.js';

/** A row that cannot be entered, and everything that is wrong with it. */
export interface WrongRow {
  readonly row: number;
  readonly problems: readonly Problem[];
}

/** What an older register comes to, before anything is entered. */
export interface ImportPlan {
  /** What is to be entered. */
  readonly events: readonly PastEvent[];
  /** Numbers that are entered anew. */
  readonly numbers: number;
  /** Rows whose numbers the register has as they say. */
  readonly already: number;
  readonly wrong: readonly WrongRow[];
}

/** Problems by row. */
class RowProblems {
  readonly #byRow = new Map<number, Problem[]>();
  readonly #file: string;

  constructor(file: string) {
    this.#file = file;
  }

  where(row: number): string {
    return whereOfRow(this.#file, row);
  }

  add(row: number, ...problems: Problem[]): void {
    if (problems.length > 0) this.#byRow.set(row, [...(this.#byRow.get(row) ?? []), ...problems]);
  }

  has(row: number): boolean {
    return this.#byRow.has(row);
  }

  all(): WrongRow[] {
    return [...this.#byRow].map(([row, problems]) => ({ row, problems })).sort((a, b) => a.row - b.row);
  }
}

/** Compares the rows of an older register with the edition, with each other and with the register. Enters nothing. */
export async function planImport(
  register: Pick<Register, 'statuses' | 'isClosed' | 'history'>,
  rows: readonly CsvRow[],
  context: ImportContext,
): Promise<ImportPlan> {
  const problems = new RowProblems(context.file);
  const past: PastRow[] = [];
  for (const [i, row] of rows.entries()) {
    const read = readRow(row, context);
    context.progress?.(i + 1, rows.length);
    problems.add(row.row, ...read.problems);
    if (read.past) past.push(read.past);
  }
  const groups = groupByNumber(past, problems);
  const fresh = await freshGroups(register, context.labels.editionId, groups, problems);
  const events = fresh.flatMap(eventsOf);
  const sound = past.filter(({ row }) => !problems.has(row)).length;
  const already = sound - fresh.reduce((sum, group) => sum + group.length, 0);
  return { events, numbers: fresh.length, already, wrong: problems.all() };
}

/** Rows of one number together: one for the whole piece, or one for each part. */
function groupByNumber(past: readonly PastRow[], problems: RowProblems): PastRow[][] {
  const byNumber = new Map<string, PastRow[]>();
  const byLabel = new Map<string, PastRow>();
  for (const one of past) {
    const { series, number, label } = one.numbered;
    const where = problems.where(one.row);
    const key = `${series}\n${number}`;
    const group = byNumber.get(key);
    const sameLabel = byLabel.get(label);
    if (sameLabel && !group) {
      problems.add(one.row, problem('import.label-twice', where, { label, row: sameLabel.row }));
      continue;
    }
    if (!group) {
      byNumber.set(key, [one]);
      byLabel.set(label, one);
      continue;
    }
    const same = group.find(
      (other) => other.part === one.part || other.part === undefined || one.part === undefined,
    );
    if (same) problems.add(one.row, problem('import.number-twice', where, { number, series, row: same.row }));
    else group.push(one);
  }
  return [...byNumber.values()];
}

/** The groups whose numbers the register does not have yet. */
async function freshGroups(
  register: Pick<Register, 'statuses' | 'isClosed' | 'history'>,
  edition: string,
  groups: readonly PastRow[][],
  problems: RowProblems,
): Promise<PastRow[][]> {
  const statuses = await register.statuses(edition);
  const byLabel = new Map(statuses.map((s) => [s.label, s]));
  const byNumber = new Map(statuses.map((s) => [`${s.series}\n${s.number}`, s]));
  const isClosed = await register.isClosed(edition);
  const fresh: PastRow[][] = [];
  for (const group of groups) {
    const [first] = group as [PastRow];
    const { series, number, label } = first.numbered;
    const add = (make: (where: string) => Problem): void => {
      for (const { row } of group) problems.add(row, make(problems.where(row)));
    };
    const known = byLabel.get(label) ?? byNumber.get(`${series}\n${number}`);
    if (!known) {
      if (isClosed) add((where) => problem('import.edition-closed', where, {}));
      else fresh.push(group);
      continue;
    }
    if (known.label !== label || known.series !== series || known.number !== number) {
      const values = { label: known.label, number: known.number, series: known.series };
      add((where) => problem('import.known-otherwise', where, values));
      continue;
    }
    if (agrees(known, group) || wasImported(await register.history(edition, label), eventsOf(group)))
      continue;
    add((where) => problem('import.already-registered', where, { state: known.state }));
  }
  return fresh;
}

/** One issue for the number, then what each row adds. */
function eventsOf(group: readonly PastRow[]): PastEvent[] {
  const [first, ...more] = group as [PastRow, ...PastRow[]];
  return [...first.events, ...more.flatMap(({ events }) => events.filter(({ event }) => event !== 'issued'))];
}

/** Whether the number is in the state that the rows give, as far as they give it. */
const agrees = (known: NumberStatus, group: readonly PastRow[]): boolean =>
  group.every(({ part, state }) => {
    if (part === undefined) return known.state === state;
    const own = known.parts.find((p) => p.part === part);
    return own?.state === (state === 'issued' || state === 'recut' ? 'blank' : state);
  });

/** Whether these rows were imported before, whatever happened since. */
function wasImported(history: readonly StoredEvent[], events: readonly PastEvent[]): boolean {
  return events.every((past, i) => {
    const stored = history[i]?.event;
    if (!stored || stored.type !== past.event || stored.why !== past.why) return false;
    if (stored.by !== past.by || stored.on !== past.on) return false;
    return ('part' in stored ? stored.part : undefined) === past.part;
  });
}
