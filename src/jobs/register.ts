import { type Numbered, planned } from '../edition/labels.js';
import type { PartStanding, Standing, State } from '../register/state.js';
import { type Bench, editionOf } from './bench.js';
import { standingsOf } from './select.js';

export interface NumberState extends Numbered {
  readonly state: State;
  /** Absent where nothing is recorded of the number. */
  readonly since?: string;
  readonly pieces: number;
  readonly parts: readonly PartStanding[];
  readonly withheldFrom?: State;
}

const untouched = (numbered: Numbered): NumberState => ({
  ...numbered,
  state: 'planned',
  pieces: 0,
  parts: [],
});

/**
 * Every number of an edition in the edition's order, planned ones included; after them those that only the register
 * knows, since a changed document takes no number back.
 */
export async function registerOf(bench: Bench, editionId: string): Promise<NumberState[]> {
  const edition = editionOf(bench, editionId);
  const known: Map<string, Standing> = await standingsOf(bench, editionId);
  const all = planned(edition).map((n) => known.get(n.label) ?? untouched(n));
  const listed = new Set(all.map((n) => n.label));
  return [...all, ...[...known.values()].filter((n) => !listed.has(n.label))];
}
