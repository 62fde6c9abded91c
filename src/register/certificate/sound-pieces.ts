import { findLabel, type LabelIndex } from '../../edition/label-index.js';
import { type Problem, Refusal } from '../../problem.js';
import { isOfNumber, LARGEST_LEAP } from '../event.js';
import { type NumberStatus, replay, type State } from '../lifecycle.js';
import type { Loss, Register } from '../register.js';
import { type PlacedEvent, shownEvents } from './facts.js';
import { problem } from './messages.js';
import { isSound } from './verify.js';

/** An event to be shown, with its text. */
export type EventWithText = PlacedEvent & { readonly body: string };

/** A piece that gets a certificate. */
export interface SoundPiece {
  readonly status: NumberStatus;
  readonly events: readonly EventWithText[];
  /** Every event of the number, shown or not. */
  readonly history: readonly PlacedEvent[];
  /** The serial of a certificate that is made now. */
  readonly serial: number;
}

type Checked =
  | { readonly ok: true; readonly piece: SoundPiece }
  | { readonly ok: false; readonly problem: Problem };

/**
 * The pieces asked for, each once. Throws a Refusal: exit 2 for labels that the edition does not have, 3 for pieces that
 * get no certificate.
 */
export async function soundPieces(
  register: Pick<Register, 'history' | 'losses'>,
  index: LabelIndex,
  labels: readonly string[],
  withDelivery: boolean,
): Promise<SoundPiece[]> {
  const problems: Problem[] = [];
  const pieces: SoundPiece[] = [];
  for (const label of new Set(labels)) {
    const checked = await checkPiece(register, index, label, withDelivery);
    if (checked.ok) pieces.push(checked.piece);
    else problems.push(checked.problem);
  }
  const unknown = problems.filter(({ exit }) => exit === 2);
  if (problems.length > 0) throw new Refusal(unknown.length > 0 ? unknown : problems);
  return pieces;
}

async function checkPiece(
  register: Pick<Register, 'history' | 'losses'>,
  index: LabelIndex,
  label: string,
  withDelivery: boolean,
): Promise<Checked> {
  const where = `edition ${index.editionId}: label ${label.slice(0, 60)}`;
  const failed = (found: Problem): Checked => ({ ok: false, problem: found });
  // Titles and the drawing of the number come from the document: it must still plan the number.
  const found = findLabel(index, label);
  if (!found.ok) return failed(found.problem);
  const events = (await register.history(index.editionId, label)).flatMap(({ seq, event, body }) =>
    isOfNumber(event) ? [{ seq, event, body }] : [],
  );
  const [status] = replay(events);
  if (!status) return failed(problem('certificate.not-issued', where, {}));
  const { series, number, state } = status;
  if (series !== found.numbered.series || number !== found.numbered.number)
    return failed(problem('certificate.label-moved', where, { number, series }));
  if (!isSound(state)) return failed(notSound(state, where));
  if (withDelivery && state !== 'delivered') return failed(problem('certificate.not-delivered', where, {}));
  const serial = nextSerial(events, await register.losses());
  return { ok: true, piece: { status, events: shownEvents(events, withDelivery), history: events, serial } };
}

/**
 * Larger than the serial of each certificate that was made, or may have been: an event that was lost may have been the
 * entry of one.
 */
function nextSerial(events: readonly PlacedEvent[], losses: readonly Loss[]): number {
  let [last, at] = [0, -1];
  for (const { seq, event } of events) if (event.type === 'certified') [last, at] = [event.serial, seq];
  const lost = losses.filter(({ seq }) => seq > at).reduce((sum, { missing }) => sum + missing, 0);
  // Whatever loss was entered, there are serials after this one.
  return Math.max(last + 1, Math.min(last + 1 + lost, LARGEST_LEAP));
}

function notSound(state: State, where: string): Problem {
  switch (state) {
    case 'withheld':
      return problem('certificate.withheld', where, {});
    case 'lost':
    case 'stolen':
      return problem('certificate.missing', where, { state });
    case 'scrapped':
      return problem('certificate.scrapped', where, {});
    case 'destroyed':
      return problem('certificate.destroyed', where, {});
    case 'void':
      return problem('certificate.void', where, {});
    case 'planned':
      return problem('certificate.not-issued', where, {});
    default:
      return problem('certificate.not-engraved', where, { state });
  }
}
