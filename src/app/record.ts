import type { Numbered } from '../edition/labels.js';
import { numberedFrom } from '../edition/ticket.js';
import { Refusal, refuse } from '../problem.js';
import type { NumberStatus } from '../register/lifecycle.js';
import { openRegister } from '../register/open.js';
import type { RecordRequest, Register } from '../register/register.js';
import { RECORDABLE } from '../register/requests.js';
import { registerDeps } from './issue.js';
import { signAfter } from './sign-log.js';
import { editionOf, registerPlace, type Workshop } from './workshop.js';

export interface RecordOrder extends Omit<RecordRequest, keyof Numbered | 'event'> {
  /** Its label, or the ticket it goes through the workshop with. */
  readonly label: string;
  /** One of those that may be recorded; another is refused. */
  readonly event: string;
}

/**
 * Records one event of one number, signs the log, and gives where the number then stands. Throws a Refusal: exit 2 for
 * a wrong order or a label nobody knows, 3 for what cannot happen to the number now.
 */
export async function recordEvent(
  workshop: Workshop,
  order: RecordOrder,
  say: (line: string) => void = () => undefined,
): Promise<NumberStatus> {
  const event = RECORDABLE.find((one) => one === order.event);
  if (!event) throw noSuchEvent(order.event);
  editionOf(workshop, order.edition);
  const register = await openRegister(registerPlace(workshop), registerDeps);
  try {
    const number = await numberOf(workshop, register, order);
    const standing = await register.record({ ...order, ...number, event });
    await signAfter(workshop, register, say);
    return standing;
  } finally {
    await register.close();
  }
}

/** The register is asked before the document: what it once knew under a label stays. */
async function numberOf(workshop: Workshop, register: Register, order: RecordOrder): Promise<Numbered> {
  const { edition, label } = order;
  const first = (await register.history(edition, label))[0]?.event;
  if (first && first.type !== 'closed') return { series: first.series, number: first.number, label };
  const read = numberedFrom(label, editionOf(workshop, edition), edition);
  if (read.ok) return read.numbered;
  throw new Refusal(2, [read.problem]);
}

const noSuchEvent = (event: string) =>
  refuse(
    2,
    'record',
    `"${event.slice(0, 60)}" is no event of a number.`,
    `Give one of: ${RECORDABLE.join(', ')}.`,
  );
