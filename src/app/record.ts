import { labelIndexOf } from '../edition/label-index.js';
import type { Numbered } from '../edition/labels.js';
import { findNumber } from '../edition/ticket.js';
import { Refusal } from '../problem.js';
import { isOfNumber } from '../register/event.js';
import type { NumberStatus } from '../register/lifecycle.js';
import type { RecordRequest, Register } from '../register/register.js';
import { RECORDABLE } from '../register/transitions.js';
import { currentTerms } from './current-terms.js';
import { refuse } from './messages.js';
import { editionOf, type OpenDocuments } from './open-documents.js';
import { openForEntry } from './open-for-entry.js';
import { signAfter, type TellProblem } from './sign-log.js';

export interface RecordOrder extends Omit<RecordRequest, keyof Numbered | 'event'> {
  /** Its label or its ticket. */
  readonly label: string;
  /** One of `RECORDABLE`; another is refused. */
  readonly event: string;
}

/**
 * Records one event of one number, signs the log, and gives the status of the number. Throws a Refusal: exit 2 for a
 * wrong order or an unknown label, 3 for what cannot happen to the number now.
 */
export async function recordEvent(
  workshop: OpenDocuments,
  order: RecordOrder,
  notSigned: TellProblem = () => undefined,
): Promise<NumberStatus> {
  const event = RECORDABLE.find((one) => one === order.event);
  if (!event)
    throw refuse('record.event-unknown', 'record', {
      ...{ event: order.event.slice(0, 60), known: RECORDABLE },
    });
  const edition = editionOf(workshop, order.edition);
  const register = await openForEntry(workshop);
  try {
    const number = await numberOf(workshop, register, order);
    const status = await register.record({
      ...{ ...order, ...number, event },
      terms: currentTerms(workshop, edition),
    });
    await signAfter(workshop, register, notSigned);
    return status;
  } finally {
    await register.close();
  }
}

/** Asks the register before the document: a label that it has keeps its number. */
async function numberOf(workshop: OpenDocuments, register: Register, order: RecordOrder): Promise<Numbered> {
  const { edition, label } = order;
  const first = (await register.history(edition, label))[0]?.event;
  if (first && isOfNumber(first)) return { series: first.series, number: first.number, label };
  const read = findNumber(labelIndexOf(editionOf(workshop, edition), edition), label);
  if (read.ok) return read.numbered;
  throw new Refusal([read.problem]);
}
