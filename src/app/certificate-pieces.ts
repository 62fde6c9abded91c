import type { Edition } from '../documents/schema/edition.js';
import { planned } from '../edition/labels.js';
import { type Problem, problem, Refusal } from '../problem.js';
import { type Told, toShow } from '../register/certificate/facts.js';
import { isSound } from '../register/certificate/verify.js';
import { applyEvent, type NumberStatus, type State } from '../register/lifecycle.js';
import type { Register } from '../register/register.js';
import type { CertificateOrder } from './certificate.js';

/** An event to be shown, with its text. */
export type ToldText = Told & { readonly body: string };

/** A piece of which a certificate may be given. */
export interface SoundPiece {
  readonly standing: NumberStatus;
  readonly events: readonly ToldText[];
}

/** Why there is no certificate of a number in a state, and what is to be done. */
const NO_CERTIFICATE: { readonly [S in State]?: readonly [what: string, cure: string] } = {
  planned: ['is only planned', 'Issue and engrave it first.'],
  issued: ['is issued but not engraved', 'Record it engraved first.'],
  recut: ['is to be recut and not engraved again', 'Record it engraved first.'],
  withheld: ['is withheld', 'Record it released first.'],
  scrapped: ['is scrapped', 'A spoiled piece has no certificate.'],
  destroyed: ['is destroyed', 'A piece that is no more has no certificate.'],
  void: ['is void', 'No piece bears it.'],
};

/** The pieces asked for. Throws a Refusal: exit 2 for a label nobody knows, 3 for what may have no certificate. */
export async function soundPieces(
  register: Pick<Register, 'history'>,
  edition: Edition,
  order: CertificateOrder,
): Promise<SoundPiece[]> {
  const known = new Map(planned(edition).map((n) => [n.label, n]));
  const where = (label: string) => `edition ${order.edition}: label ${label.slice(0, 60)}`;
  const [unknown, unsound]: [Problem[], Problem[]] = [[], []];
  const pieces: SoundPiece[] = [];
  for (const label of new Set(order.labels)) {
    // Cut lines and titles are the document's: what it no longer plans cannot be drawn.
    const now = known.get(label);
    if (!now) {
      unknown.push(
        problem(where(label), 'It is not in the edition.', 'Write labels as `burin register` lists them.'),
      );
      continue;
    }
    const told = (await register.history(order.edition, label)).flatMap(({ seq, event, body }) =>
      event.type === 'closed' ? [] : [{ seq, event, body }],
    );
    let standing: NumberStatus | undefined;
    for (const { event } of told) standing = applyEvent(standing, event);
    const state = standing?.state ?? 'planned';
    if (standing && (standing.series !== now.series || standing.number !== now.number)) {
      const what = `The register has it as number ${standing.number} of series ${standing.series}.`;
      unknown.push(problem(where(label), what, 'Give the edition its former series and numbers back.'));
      continue;
    }
    const events = toShow(told, order.withDelivery === true);
    if (!standing || !isSound(state)) unsound.push(problem(where(label), ...whyNot(state)));
    else if (order.withDelivery && state !== 'delivered')
      unsound.push(problem(where(label), 'It is not delivered.', 'Leave out --with-delivery.'));
    else pieces.push({ standing, events });
  }
  if (unknown.length > 0) throw new Refusal(2, unknown);
  if (unsound.length > 0) throw new Refusal(3, unsound);
  return pieces;
}

function whyNot(state: State): readonly [what: string, cure: string] {
  const [what, cure] = NO_CERTIFICATE[state] ?? [`is ${state}`, 'It has no certificate.'];
  return [`It ${what}.`, cure];
}
