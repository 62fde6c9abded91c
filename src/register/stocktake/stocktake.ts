import { type CsvRow, readCsv } from '../../documents/csv/read-csv.js';
import { showInvisible } from '../../documents/invisible.js';
import type { Edition } from '../../documents/schema/edition.js';
import { excludedNumber, type LabelIndex, labelIndexOf } from '../../edition/label-index.js';
import { oddLetters } from '../../edition/look-alike.js';
import { nearMissPhrase } from '../../edition/near-miss.js';
import type { Problem } from '../../problem.js';
import type { NumberStatus, State } from '../lifecycle.js';
import { problem } from './messages.js';

const SEEN_COLUMNS = { needed: ['label'], known: ['label', 'place', 'part'] };

export interface StockFinding extends Problem {
  /** Row of the list; none for what was not seen. */
  readonly row?: number;
  readonly label: string;
  readonly place?: string;
  readonly part?: string;
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
/** A blank shows no number yet, so it is not missed. */
const BEARS_ITS_NUMBER: ReadonlySet<State> = new Set(['engraved', 'inspected']);

/** Reads a list of labels seen on the shelves. Throws a Refusal (exit 2) when it cannot be read. */
export const readSeenLabels = (where: string, bytes: Uint8Array): CsvRow[] =>
  readCsv(where, bytes, SEEN_COLUMNS);

/** Compares a list of labels seen with the register. */
export function stocktake(
  edition: Pick<Edition, 'series'>,
  editionId: string,
  known: readonly NumberStatus[],
  rows: readonly CsvRow[],
): Stocktake {
  const statuses = new Map(known.map((s) => [s.label, s]));
  const planned = labelIndexOf(edition, editionId);
  const labels = labelIndexOf(
    edition,
    editionId,
    known.filter((s) => !planned.byLabel.has(s.label)),
  );
  const findings: StockFinding[] = [];
  const seen = new SeenLabels();
  const agreeing = new Set<string>();
  for (const { row, cells } of rows) {
    const label = cells.label ?? '';
    const part = cells.part?.trim() || undefined;
    const place = cells.place?.trim() || undefined;
    const where = `row ${row}`;
    const add = (found: Problem): void => {
      findings.push({ ...found, row, label, place, part });
    };
    const status = statuses.get(label);
    if (!status && !labels.byLabel.has(label)) {
      add(unknownLabel(labels, label, part, where, seen));
      continue;
    }
    const before = seen.add(label, part, row);
    if (before !== undefined) {
      add(problem('stocktake.double', where, { label, row: before }));
      continue;
    }
    const wrong = status
      ? stateProblem(status, part, where)
      : problem('stocktake.not-issued', where, { label });
    if (wrong) add(wrong);
    else agreeing.add(label);
  }
  for (const status of known) {
    const { label, state } = status;
    if (!BEARS_ITS_NUMBER.has(physicalState(status)) || seen.has(label)) continue;
    findings.push({ ...problem('stocktake.missing', `label ${label}`, { label, state }), label });
  }
  return { ok: findings.length === 0, agreeing: agreeing.size, seen: rows.length, findings };
}

/** Labels seen so far, with the row of each. A part that is named counts by itself; a whole piece counts once. */
class SeenLabels {
  readonly #rows = new Map<string, number>();
  readonly #labels = new Set<string>();

  /** Gives the row that named the same before. Row 0 is for a label that was probably meant. */
  add(label: string, part: string | undefined, row: number): number | undefined {
    const name = `${label}\n${part ?? ''}`;
    const before = this.#rows.get(name);
    if (!before) this.#rows.set(name, row);
    this.#labels.add(label);
    return before || undefined;
  }

  has(label: string): boolean {
    return this.#labels.has(label);
  }
}

function unknownLabel(
  labels: LabelIndex,
  label: string,
  part: string | undefined,
  where: string,
  seen: SeenLabels,
): Problem {
  const excluded = excludedNumber(labels, label);
  if (excluded) {
    const { number, series } = excluded;
    return problem('stocktake.excluded', where, { label, number, series, why: excluded.excluded! });
  }
  const text = showInvisible(label);
  const misses = labels.nearMisses(label);
  if (misses.length > 0) {
    // The piece was seen, if badly written down: it is not missed as well.
    for (const { candidate } of misses) seen.add(candidate.label, part, 0);
    const suggestions = misses.map(nearMissPhrase);
    return problem('stocktake.near-miss', where, { text, suggestions });
  }
  const [odd] = oddLetters(label);
  if (odd?.kind === 'invisible')
    return problem('stocktake.unexpected-invisible', where, { text, characters: odd.characters });
  if (odd) {
    const { script, character } = odd;
    return problem('stocktake.unexpected-mixed-scripts', where, { text, script, character });
  }
  return problem('stocktake.unexpected', where, { text });
}

/** No part of such a piece is here. */
const OFF_THE_SHELF: ReadonlySet<State> = new Set(['delivered', 'void', 'lost', 'stolen']);

/** The state of the piece itself: a withheld one is as it was before. */
const physicalState = ({ state, withheldFrom }: NumberStatus): State =>
  state === 'withheld' ? (withheldFrom ?? state) : state;

function stateProblem(status: NumberStatus, part: string | undefined, where: string): Problem | undefined {
  const { label } = status;
  if (part === undefined) {
    const state = physicalState(status);
    return ON_THE_SHELF.has(state) ? undefined : notOnShelfProblem(label, state, where);
  }
  const own = status.parts.find((p) => p.part === part);
  if (!own) return problem('stocktake.part-unknown', where, { label, part: part.slice(0, 60) });
  if (own.state === 'destroyed') return problem('stocktake.part-destroyed', where, { label, part });
  const gone = OFF_THE_SHELF.has(status.state);
  return gone ? notOnShelfProblem(label, status.state, where) : undefined;
}

function notOnShelfProblem(label: string, state: State, where: string): Problem | undefined {
  switch (state) {
    case 'planned':
      return problem('stocktake.not-issued', where, { label });
    case 'destroyed':
      return problem('stocktake.destroyed', where, { label });
    case 'void':
      return problem('stocktake.void', where, { label });
    case 'delivered':
      return problem('stocktake.delivered', where, { label });
    case 'lost':
    case 'stolen':
      return problem('stocktake.was-missing', where, { label, state });
    default:
      return undefined;
  }
}
