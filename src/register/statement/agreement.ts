import { Refusal } from '../../problem.js';
import { type EventOf, isOfNumber } from '../event.js';
import type { PlacedEvent } from '../lifecycle.js';
import { editionAtClosing, type TermsAtClosing } from './edition-at-closing.js';
import { type Statement, statementDigest, statementOf } from './statement.js';

/** Whether the statement of a closing is the one that the events before it make. */
export type Agreement =
  | { readonly is: 'agrees'; readonly statement: Statement }
  | { readonly is: 'differs' }
  /** An older closing says too little; or an entry that was counted then is passed over now. */
  | { readonly is: 'unknown'; readonly because: 'older' | 'later' }
  /** Events before it cannot be read, so nothing can be said. */
  | { readonly is: 'unreadable' };

/** What is asked of the events before a closing, without what is passed over. */
export interface PastOfClosing {
  ofEdition(edition: string): Promise<readonly PlacedEvent[]>;
  terms(edition: string): Promise<TermsAtClosing | undefined>;
  /** The root of the log of so many events, by their hashes. */
  root(size: number): Promise<Buffer>;
  /** Whether an entry before the closing was passed over only after it. */
  passesLater(edition: string): boolean;
}

export async function agreementOf(
  { edition, by, statement: digest, stated }: EventOf<'closed'>,
  seq: number,
  past: PastOfClosing,
): Promise<Agreement> {
  if (!stated) return { is: 'unknown', because: 'older' };
  if (past.passesLater(edition)) return { is: 'unknown', because: 'later' };
  let statement: Statement;
  let covered: boolean;
  try {
    const terms = await past.terms(edition);
    if (!terms) return { is: 'differs' };
    const events = await past.ofEdition(edition);
    // Terms that the register had not before go in with the closing.
    covered = events.every((one) => !isOfNumber(one.event) || (one.seq ?? 0) < stated.size);
    const was = editionAtClosing(events, terms);
    statement = statementOf({ edition, by, stated }, was);
  } catch (error) {
    if (error instanceof Refusal) return { is: 'unreadable' };
    throw error;
  }
  if (!covered || stated.size > seq || statementDigest(statement) !== digest) return { is: 'differs' };
  const root = await past.root(stated.size);
  return root.toString('hex') === stated.root ? { is: 'agrees', statement } : { is: 'differs' };
}
