import { type CsvRow, readCsv } from '../documents/csv.js';
import type { Edition } from '../documents/schema/edition.js';
import { planned } from '../edition/labels.js';
import { oddLetters, shown } from '../edition/look-alike.js';
import { nearMissesOf, nearMissWords } from '../edition/near-miss.js';
import type { NumberStatus, State } from '../register/lifecycle.js';

export const SEEN_COLUMNS = { needed: ['label'], known: ['label', 'place', 'part'] };

/** What a count of the shelves can come to. */
export type StockKind = 'missing' | 'unexpected' | 'double' | 'wrong-state' | 'near-miss';

export interface StockFinding {
  readonly kind: StockKind;
  /** Row of the list; none for what was not seen. */
  readonly row?: number;
  readonly label: string;
  readonly place?: string;
  readonly part?: string;
  readonly what: string;
  readonly cure: string;
}

export interface Stocktake {
  readonly ok: boolean;
  /** Labels seen that are where the register says. */
  readonly agreeing: number;
  readonly seen: number;
  readonly findings: readonly StockFinding[];
}

/** States of a piece that is on a shelf of the maker's; of others there is nothing to see. */
const ON_THE_SHELF: ReadonlySet<State> = new Set(['issued', 'engraved', 'inspected', 'recut', 'scrapped']);
/** A blank shows no number yet: it is not missed. */
const BEARS_ITS_NUMBER: ReadonlySet<State> = new Set(['engraved', 'inspected']);

const WRONG: Partial<Record<State, readonly [what: string, cure: string]>> = {
  planned: [
    'is seen, and the register has not issued it',
    'Find out who made it; issue nothing under its label.',
  ],
  destroyed: [
    'is seen, and the register has it destroyed',
    'Ask the witness; a number must not be on two pieces.',
  ],
  void: ['is seen, and the register has it void', 'Nothing may bear it: find out where it comes from.'],
  delivered: [
    'is on the shelf, and the register has it delivered',
    'Record what came back, or find the other piece.',
  ],
};

export const readSeen = (where: string, bytes: Uint8Array): CsvRow[] => readCsv(where, bytes, SEEN_COLUMNS);

/** Holds a list of labels seen against the register. */
export function stocktake(
  edition: Edition,
  known: readonly NumberStatus[],
  rows: readonly CsvRow[],
): Stocktake {
  const states = new Map(known.map((s) => [s.label, s]));
  const plan = planned(edition);
  const labels = new Set(plan.map((n) => n.label));
  const look = nearMissesOf([...plan, ...known.filter((s) => !labels.has(s.label))]);
  const findings: StockFinding[] = [];
  const seen = new Map<string, number>();
  const agreeing = new Set<string>();
  for (const { row, cells } of rows) {
    const label = cells.label ?? '';
    const part = cells.part?.trim() || undefined;
    const place = cells.place?.trim() || undefined;
    const add = (kind: StockKind, what: string, cure: string): void => {
      findings.push({ kind, row, label, place, part, what, cure });
    };
    const standing = states.get(label);
    if (!standing && !labels.has(label)) {
      const misses = look(label);
      if (misses.length > 0) {
        for (const miss of misses) mention(seen, miss.numbered.label, part);
        add(
          'near-miss',
          `"${shown(label)}" is no label of the edition; near are ${misses.map(nearMissWords).join(', or ')}.`,
          'Look at the piece again, with a glass.',
        );
      } else {
        const odd = oddLetters(label)
          .map((o) => `; it ${o}`)
          .join('');
        add(
          'unexpected',
          `"${shown(label)}" is no label of the edition${odd}.`,
          'Put it aside and find out where it comes from.',
        );
      }
      continue;
    }
    const before = mention(seen, label, part, row);
    if (before !== undefined) {
      add(
        'double',
        `${label} was seen before, in row ${before}.`,
        'Fetch both: one list entry may be counted twice, or two pieces bear one number.',
      );
      continue;
    }
    const wrong = standing ? wrongState(standing, part) : WRONG.planned;
    if (wrong) add('wrong-state', `${label} ${wrong[0]}.`, wrong[1]);
    else agreeing.add(label);
  }
  for (const { label, state, withheldFrom } of known) {
    const stands = state === 'withheld' ? (withheldFrom ?? state) : state;
    if (!BEARS_ITS_NUMBER.has(stands) || isSeen(seen, label)) continue;
    findings.push({
      kind: 'missing',
      label,
      what: `${label} is ${state} and was not seen.`,
      cure: 'Search for it; record nothing until it is found or known lost.',
    });
  }
  return { ok: findings.length === 0, agreeing: agreeing.size, seen: rows.length, findings };
}

/** A part named stands for itself; a whole piece counts once. Gives the row that named the same before. */
function mention(
  seen: Map<string, number>,
  label: string,
  part: string | undefined,
  row = 0,
): number | undefined {
  const name = `${label}\n${part ?? ''}`;
  const before = seen.get(name);
  if (before === undefined || before === 0) seen.set(name, row);
  seen.set(`any\n${label}`, row);
  return before || undefined;
}

const isSeen = (seen: ReadonlyMap<string, number>, label: string): boolean => seen.has(`any\n${label}`);

function wrongState(standing: NumberStatus, part: string | undefined): readonly [string, string] | undefined {
  if (part === undefined) {
    const { state, withheldFrom } = standing;
    const stands = state === 'withheld' ? (withheldFrom ?? state) : state;
    return ON_THE_SHELF.has(stands) ? undefined : WRONG[stands];
  }
  const own = standing.parts.find((p) => p.part === part);
  if (!own)
    return [
      `has no part ${part.slice(0, 60)} that bears its number`,
      'Correct the list, or look at the part again.',
    ];
  if (own.state === 'destroyed')
    return [`has its ${part} seen, and the register has that destroyed`, WRONG.destroyed![1]];
  return standing.state === 'delivered' || standing.state === 'void' ? WRONG[standing.state] : undefined;
}
