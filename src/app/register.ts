import { type Numbered, plannedNumbers } from '../edition/labels.js';
import { ticketOf } from '../edition/ticket.js';
import type { NumberStatus, PartStatus, State } from '../register/lifecycle.js';
import { editionOf, type OpenDocuments } from './open-documents.js';
import { statusesOf } from './statuses.js';

export interface NumberState extends Numbered {
  /** The number as written on the tray beside its piece. */
  readonly ticket: string;
  readonly state: State;
  /** Absent where nothing is recorded about the number. */
  readonly since?: string;
  readonly pieces: number;
  readonly parts: readonly PartStatus[];
  readonly withheldFrom?: State;
}

const plannedOnly = (numbered: Numbered): Omit<NumberState, 'ticket'> => ({
  ...numbered,
  state: 'planned',
  pieces: 0,
  parts: [],
});

/**
 * Every number of an edition in the edition's order, planned ones included; then those that only the register knows: a
 * changed document does not take a number back.
 */
export async function registerOf(workshop: OpenDocuments, editionId: string): Promise<NumberState[]> {
  const edition = editionOf(workshop, editionId);
  const known: Map<string, NumberStatus> = await statusesOf(workshop, editionId);
  const all = plannedNumbers(edition).map((n) => known.get(n.label) ?? plannedOnly(n));
  const listed = new Set(all.map((n) => n.label));
  const strays = [...known.values()].filter((n) => !listed.has(n.label));
  return [...all, ...strays].map((n) => ({ ...n, ticket: ticketOf(editionId, n.series, n.number) }));
}
