import { readFile } from 'node:fs/promises';
import { readCsv } from '../documents/csv.js';
import { planned } from '../edition/labels.js';
import { nearMissesOf } from '../edition/near-miss.js';
import { type Problem, problem, Refusal, refuse } from '../problem.js';
import type { NumberStatus } from '../register/lifecycle.js';
import { openRegister } from '../register/open.js';
import type { PastEvent, Register, StoredEvent } from '../register/register.js';
import { diskProblem } from './disk.js';
import { IMPORT_COLUMNS, type PastRow, readRow } from './import-row.js';
import { numberedParts, registerDeps } from './issue.js';
import { signAfter } from './sign-log.js';
import { editionOf, registerPlace, type Workshop } from './workshop.js';

export interface ImportOrder {
  readonly edition: string;
  readonly file: string;
  readonly by: string;
  /** Only say what would be entered and what stands against it. */
  readonly dryRun?: boolean;
}

/** A row that cannot be entered, and everything that stands against it. */
export interface Clash {
  readonly row: number;
  readonly faults: readonly string[];
}

export interface Imported {
  readonly ok: boolean;
  readonly rows: number;
  /** Numbers that were, or would be, entered anew. */
  readonly numbers: number;
  readonly events: number;
  /** Rows whose numbers the register has as they say. */
  readonly already: number;
  readonly clashes: readonly Clash[];
}

/**
 * Brings an older register in: all of it, in one transaction, or nothing. Throws a Refusal: exit 2 for a list that
 * cannot be read, 3 for one with clashes, each row told. A dry run gives them instead, and writes nothing.
 */
export async function importPast(
  workshop: Workshop,
  order: ImportOrder,
  say: (line: string) => void = () => undefined,
): Promise<Imported> {
  const edition = editionOf(workshop, order.edition);
  const rows = readCsv(order.file, await bytesOf(order.file), IMPORT_COLUMNS);
  if (rows.length === 0) throw refuse(2, order.file, 'It has a heading and no rows.', 'Name the right file.');
  const context = {
    ...{ edition, editionId: order.edition, by: order.by.trim() },
    ...{
      parts: numberedParts(workshop, edition),
      now: registerDeps.now(),
      near: nearMissesOf(planned(edition)),
    },
  };
  const faults = new Map<number, string[]>();
  const past: PastRow[] = [];
  for (const row of rows) {
    const read = readRow(row, context);
    if (read.faults.length > 0) faults.set(row.row, read.faults);
    if (read.past) past.push(read.past);
  }
  const register = await openRegister(registerPlace(workshop), registerDeps);
  try {
    const groups = grouped(past, faults);
    const fresh = await freshOf(register, order.edition, groups, faults);
    const clashes = [...faults].map(([row, of]) => ({ row, faults: of })).sort((a, b) => a.row - b.row);
    const events = fresh.flatMap(eventsOf);
    const already =
      past.filter(({ row }) => !faults.has(row)).length - fresh.reduce((sum, group) => sum + group.length, 0);
    const done = {
      ok: clashes.length === 0,
      rows: rows.length,
      numbers: fresh.length,
      events: events.length,
      already,
      clashes,
    };
    if (order.dryRun) return done;
    if (clashes.length > 0)
      throw new Refusal(
        3,
        clashes.map((clash) => clashProblem(order.file, clash)),
      );
    if (events.length > 0) {
      await register.importEvents(events);
      await signAfter(workshop, register, say);
    }
    return done;
  } finally {
    await register.close();
  }
}

export const clashProblem = (file: string, { row, faults }: Clash): Problem =>
  problem(`${file}: row ${row}`, `${faults.join('; ')}.`, 'Nothing is brought in while a row clashes.');

/** Rows of one number together: one for the whole piece, or one for each part. Later rows that clash are told. */
function grouped(past: readonly PastRow[], faults: Map<number, string[]>): PastRow[][] {
  const byNumber = new Map<string, PastRow[]>();
  const byLabel = new Map<string, PastRow>();
  for (const one of past) {
    const { series, number, label } = one.numbered;
    const name = `${series}\n${number}`;
    const group = byNumber.get(name);
    const labelled = byLabel.get(label);
    if (labelled && !group) {
      fault(faults, one.row, `label ${label} is in row ${labelled.row} too`);
      continue;
    }
    if (!group) {
      byNumber.set(name, [one]);
      byLabel.set(label, one);
      continue;
    }
    const same = group.find(
      (other) => other.part === one.part || other.part === undefined || one.part === undefined,
    );
    if (same) fault(faults, one.row, `number ${number} of ${series} is in row ${same.row} too`);
    else group.push(one);
  }
  return [...byNumber.values()];
}

/** The groups that the register does not have yet. What it has otherwise is told as a clash. */
async function freshOf(
  register: Register,
  edition: string,
  groups: readonly PastRow[][],
  faults: Map<number, string[]>,
): Promise<PastRow[][]> {
  const replay = await register.statuses(edition);
  const byLabel = new Map(replay.map((s) => [s.label, s]));
  const byNumber = new Map(replay.map((s) => [`${s.series}\n${s.number}`, s]));
  const closed = await register.isClosed(edition);
  const fresh: PastRow[][] = [];
  for (const group of groups) {
    const [first] = group as [PastRow];
    const { series, number, label } = first.numbered;
    const known = byLabel.get(label) ?? byNumber.get(`${series}\n${number}`);
    if (!known) {
      if (closed) for (const one of group) fault(faults, one.row, 'the edition is closed');
      else fresh.push(group);
      continue;
    }
    if (known.label !== label || known.series !== series || known.number !== number) {
      for (const one of group)
        fault(
          faults,
          one.row,
          `the register has ${known.label} as number ${known.number} of ${known.series}`,
        );
      continue;
    }
    if (standsSo(known, group) || beginsSo(await register.history(edition, label), eventsOf(group))) continue;
    for (const one of group) fault(faults, one.row, `it is in the register already, ${known.state}`);
  }
  return fresh;
}

const fault = (faults: Map<number, string[]>, row: number, what: string): void => {
  faults.set(row, [...(faults.get(row) ?? []), what]);
};

/** One issue for the number, then what each row tells. */
function eventsOf(group: readonly PastRow[]): PastEvent[] {
  const [first, ...more] = group as [PastRow, ...PastRow[]];
  return [...first.events, ...more.flatMap(({ events }) => events.filter(({ event }) => event !== 'issued'))];
}

/** Whether the number stands where the rows say, as far as they say it. */
const standsSo = (known: NumberStatus, group: readonly PastRow[]): boolean =>
  group.every(({ part, state }) => {
    if (part === undefined) return known.state === state;
    const own = known.parts.find((p) => p.part === part);
    return own?.state === (state === 'issued' || state === 'recut' ? 'blank' : state);
  });

/** Whether these rows were brought in before, whatever came after. */
function beginsSo(history: readonly StoredEvent[], events: readonly PastEvent[]): boolean {
  return events.every((told, i) => {
    const kept = history[i]?.event;
    if (
      !kept ||
      kept.type !== told.event ||
      kept.why !== told.why ||
      kept.by !== told.by ||
      kept.on !== told.on
    )
      return false;
    return ('part' in kept ? kept.part : undefined) === told.part;
  });
}

async function bytesOf(file: string): Promise<Buffer> {
  try {
    return await readFile(file);
  } catch (error) {
    const found = diskProblem(error, file);
    throw found ? new Refusal(2, [found]) : error;
  }
}
