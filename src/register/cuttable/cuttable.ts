import type { Numbered } from '../../edition/labels.js';
import { listLabels } from '../../edition/list-labels.js';
import { Refusal } from '../../problem.js';
import type { NumberStatus, State } from '../lifecycle.js';
import { problem, refuse, type table } from './messages.js';

/** A piece to be cut, less the parts of it that carry the number already. */
export interface CuttablePiece extends Numbered {
  readonly done?: ReadonlySet<string>;
}

/** Why a number in a state is not cut. */
const NOT_CUT: { readonly [S in State]?: keyof typeof table } = {
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
};

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
  const refused = new Map<
    Refused['code'],
    Map<string, { readonly values: Refused['values']; labels: string[] }>
  >();
  const cut: CuttablePiece[] = [];
  for (const piece of pieces) {
    const found = leftOut(known.get(piece.label), parts);
    if (!('code' in found)) {
      cut.push({ ...piece, done: new Set(found.done) });
      continue;
    }
    const { code, values } = found;
    const ofCode = refused.get(code) ?? new Map<string, { values: Refused['values']; labels: string[] }>();
    refused.set(code, ofCode);
    const key = JSON.stringify(values);
    const group = ofCode.get(key) ?? { values, labels: [] };
    ofCode.set(key, group);
    group.labels.push(piece.label);
  }
  const problems = [...refused].flatMap(([code, groups]) =>
    [...groups.values()].map(({ values, labels }) => {
      const list = { labels: listLabels(labels), n: labels.length };
      return problem(code as 'cuttable.part-not-blank', where, { ...list, ...(values as PartValues) });
    }),
  );
  if (problems.length > 0) throw new Refusal(problems);
  return cut;
}

interface PartValues {
  readonly part: string;
  readonly state: string;
}

/** Why a piece may not be cut. */
interface Refused {
  readonly code: keyof typeof table;
  readonly values: object;
}

const refusedAs = (code: keyof typeof table, values: object = {}): Refused => ({ code, values });

/** The parts of one piece that are not cut, or why none may be. */
function leftOut(
  status: NumberStatus | undefined,
  { all, wanted }: EditionParts,
): { readonly done: readonly string[] } | Refused {
  const state = status?.state ?? 'planned';
  const code = NOT_CUT[state];
  if (!status || (code && !WITH_PARTS.some((one) => one === state))) return refusedAs(code!);
  const ofPart = new Map(status.parts.flatMap(({ part, state }) => (part ? [[part, state] as const] : [])));
  if (wanted) {
    // A piece as one whole has one state for all its parts.
    const whole = status.parts.find(({ part }) => part === undefined);
    if (code && whole) return refusedAs(code);
    const marked = wanted.find((part) => (ofPart.get(part) ?? 'blank') !== 'blank');
    if (marked) return refusedAs('cuttable.part-not-blank', { part: marked, state: ofPart.get(marked)! });
    return { done: all.filter((part) => !wanted.includes(part)) };
  }
  const blank = status.parts.some((part) => part.state === 'blank');
  if (code && (state === 'engraved' || !blank)) return refusedAs(code);
  const unmarked = all.filter((part) => !ofPart.has(part));
  // Nobody can say from the register whether a part without the number was cut with the spoiled one.
  if (state !== 'issued' && ofPart.size > 0 && unmarked.length > 0)
    return refusedAs('cuttable.parts-not-named', { parts: unmarked });
  return { done: [...ofPart].flatMap(([part, made]) => (made === 'blank' ? [] : [part])) };
}
