import type { Numbered } from '../../edition/labels.js';
import { listLabels } from '../../edition/list-labels.js';
import { type Problem, Refusal } from '../../problem.js';
import type { NumberStatus, State } from '../lifecycle.js';
import { problem, refuse, type table } from './messages.js';

/** A piece to be cut, less the parts of it that carry the number already. */
export interface CuttablePiece extends Numbered {
  readonly done?: ReadonlySet<string>;
}

/** Why a number in a state is not cut. */
const NOT_CUT = {
  planned: 'cuttable.not-issued',
  withheld: 'cuttable.withheld',
  engraved: 'cuttable.engraved',
  inspected: 'cuttable.inspected',
  delivered: 'cuttable.delivered',
  scrapped: 'cuttable.scrapped',
  destroyed: 'cuttable.destroyed',
  lost: 'cuttable.lost',
  stolen: 'cuttable.stolen',
  void: 'cuttable.void',
} as const satisfies { readonly [S in State]?: keyof typeof table };

type StateCode = (typeof NOT_CUT)[keyof typeof NOT_CUT];

/** States of a piece of which a part may still be blank, or may not carry the number. */
const WITH_PARTS = ['engraved', 'scrapped', 'destroyed'] as const satisfies readonly State[];

/** The parts that an edition is cut on, whether or not they carry the number. */
export interface EditionParts {
  readonly all: readonly string[];
  /** Those that are to be cut; all that are not done when left out. */
  readonly wanted?: readonly string[];
}

/**
 * The pieces with the parts that are left out of the cut. A spoiled part does not keep the others of its piece from being
 * cut. Throws a Refusal: exit 2 for an unknown part, 3 when a piece may not be cut now.
 */
export function cuttablePieces(
  editionId: string,
  pieces: readonly Numbered[],
  known: ReadonlyMap<string, NumberStatus>,
  parts: EditionParts,
): CuttablePiece[] {
  const where = `edition ${editionId}`;
  const unknown = parts.wanted?.filter((part) => !parts.all.includes(part)) ?? [];
  if (unknown.length > 0) throw refuse('cuttable.part-unknown', where, { parts: unknown, known: parts.all });
  const refused = new Map<string, { readonly problemOf: Refused['problemOf']; readonly labels: string[] }>();
  const cut: CuttablePiece[] = [];
  for (const piece of pieces) {
    const found = leftOut(known.get(piece.label), parts);
    if ('done' in found) {
      cut.push(found.done.length === 0 ? piece : { done: new Set(found.done), ...piece });
      continue;
    }
    const { reason, problemOf } = found;
    const group = refused.get(reason) ?? { problemOf, labels: [] };
    refused.set(reason, group);
    group.labels.push(piece.label);
  }
  const problems = [...refused.values()].map(({ problemOf, labels }) =>
    problemOf(where, { labels: listLabels(labels), n: labels.length }),
  );
  if (problems.length > 0) throw new Refusal(problems);
  return cut;
}

/** Why a piece may not be cut. Pieces of one reason are named in one problem. */
interface Refused {
  readonly reason: string;
  problemOf(where: string, list: { readonly labels: string; readonly n: number }): Problem;
}

const refusedByState = (code: StateCode): Refused => ({
  reason: code,
  problemOf: (where, list) => problem(code, where, list),
});

/** The parts of one piece that are not cut, or why none may be. */
function leftOut(
  status: NumberStatus | undefined,
  { all, wanted }: EditionParts,
): { readonly done: readonly string[] } | Refused {
  const state = status?.state ?? 'planned';
  const code = (NOT_CUT as { readonly [S in State]?: StateCode })[state];
  if (!status) return refusedByState(NOT_CUT.planned);
  if (code && !WITH_PARTS.some((one) => one === state)) return refusedByState(code);
  const ofPart = new Map(status.parts.flatMap(({ part, state }) => (part ? [[part, state] as const] : [])));
  if (wanted) {
    // A piece as one whole has one state for all its parts.
    const whole = status.parts.find(({ part }) => part === undefined);
    if (code && whole) return refusedByState(code);
    const marked = wanted.find((part) => (ofPart.get(part) ?? 'blank') !== 'blank');
    if (marked) {
      const values = { part: marked, state: ofPart.get(marked)! };
      return {
        reason: `${marked} ${values.state}`,
        problemOf: (at, list) => problem('cuttable.part-not-blank', at, { ...list, ...values }),
      };
    }
    return { done: all.filter((part) => !wanted.includes(part)) };
  }
  const blank = status.parts.some((part) => part.state === 'blank');
  if (code && (state === 'engraved' || !blank)) return refusedByState(code);
  const unmarked = all.filter((part) => !ofPart.has(part));
  // Nobody can say from the register whether a part without the number was cut with the spoiled one.
  if (state !== 'issued' && ofPart.size > 0 && unmarked.length > 0)
    return {
      reason: `parts ${unmarked.join(' ')}`,
      problemOf: (at, list) => problem('cuttable.parts-not-named', at, { ...list, parts: unmarked }),
    };
  return { done: [...ofPart].flatMap(([part, made]) => (made === 'blank' ? [] : [part])) };
}
