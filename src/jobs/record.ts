import { type Numbered, planned } from '../edition/labels.js';
import { refuse } from '../problem.js';
import { openRegister } from '../register/open.js';
import type { RecordRequest, Register } from '../register/register.js';
import { RECORDABLE } from '../register/requests.js';
import type { Standing } from '../register/state.js';
import { type Bench, editionOf, registerPlace } from './bench.js';
import { surroundings } from './issue.js';
import { signAfter } from './sign-log.js';

export interface RecordOrder extends Omit<RecordRequest, keyof Numbered | 'event'> {
  readonly label: string;
  /** One of those that may be recorded; another is refused. */
  readonly event: string;
}

/**
 * Records one event of one number, signs the log, and gives where the number then stands. Throws a Refusal: exit 2 for
 * a wrong order or a label nobody knows, 3 for what cannot happen to the number now.
 */
export async function recordEvent(
  bench: Bench,
  order: RecordOrder,
  say: (line: string) => void = () => undefined,
): Promise<Standing> {
  const event = RECORDABLE.find((one) => one === order.event);
  if (!event) throw noSuchEvent(order.event);
  editionOf(bench, order.edition);
  const register = await openRegister(registerPlace(bench), surroundings);
  try {
    const number = await numberOf(bench, register, order);
    const standing = await register.record({ ...order, ...number, event });
    await signAfter(bench, register, say);
    return standing;
  } finally {
    await register.close();
  }
}

/** The register is asked before the document: what it once knew under a label stays. */
async function numberOf(bench: Bench, register: Register, order: RecordOrder): Promise<Numbered> {
  const { edition, label } = order;
  const first = (await register.history(edition, label))[0]?.event;
  const found =
    first && first.type !== 'closed'
      ? first
      : planned(editionOf(bench, edition)).find((n) => n.label === label);
  if (found) return { series: found.series, number: found.number, label };
  throw refuse(
    2,
    `edition ${edition}`,
    `has no label "${label.slice(0, 60)}".`,
    'Write labels as `burin register` lists them.',
  );
}

const noSuchEvent = (event: string) =>
  refuse(
    2,
    'record',
    `"${event.slice(0, 60)}" is no event of a number.`,
    `Give one of: ${RECORDABLE.join(', ')}.`,
  );
