import { type Numbered, planned } from '../edition/labels.js';
import { ticketOf } from '../edition/ticket.js';
import type { NumberStatus, PartStatus, State } from '../register/lifecycle.js';
import { standingsOf } from './select.js';
import { editionOf, type Workshop } from './workshop.js';

export interface NumberState extends Numbered {
  /** What it goes through the workshop with. */
  readonly ticket: string;
  readonly state: State;
  /** Absent where nothing is recorded of the number. */
  readonly since?: string;
  readonly pieces: number;
  readonly parts: readonly PartStatus[];
  readonly withheldFrom?: State;
}

const untouched = (numbered: Numbered): Omit<NumberState, 'ticket'> => ({
  ...numbered,
  state: 'planned',
  pieces: 0,
  parts: [],
});

/**
 * Every number of an edition in the edition's order, planned ones included; after them those that only the register
 * knows, since a changed document takes no number back.
 */
export async function registerOf(workshop: Workshop, editionId: string): Promise<NumberState[]> {
  const edition = editionOf(workshop, editionId);
  const known: Map<string, NumberStatus> = await standingsOf(workshop, editionId);
  const all = planned(edition).map((n) => known.get(n.label) ?? untouched(n));
  const listed = new Set(all.map((n) => n.label));
  const strays = [...known.values()].filter((n) => !listed.has(n.label));
  return [...all, ...strays].map((n) => ({ ...n, ticket: ticketOf(editionId, n.series, n.number) }));
}
