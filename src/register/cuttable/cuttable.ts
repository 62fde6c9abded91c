import type { Numbered } from '../../edition/labels.js';
import { listLabels } from '../../edition/list-labels.js';
import { Refusal } from '../../problem.js';
import type { NumberStatus, State } from '../lifecycle.js';
import { problem, type table } from './messages.js';

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

/** The pieces with what is left to cut of each. Throws a Refusal (exit 3) when one may not be cut now. */
export function cuttablePieces(
  editionId: string,
  pieces: readonly Numbered[],
  known: ReadonlyMap<string, NumberStatus>,
): CuttablePiece[] {
  const stateOf = ({ label }: Numbered): State => known.get(label)?.state ?? 'planned';
  const problems = Object.entries(NOT_CUT).flatMap(([state, code]) => {
    const labels = pieces.filter((piece) => stateOf(piece) === state).map((piece) => piece.label);
    if (labels.length === 0) return [];
    return [problem(code, `edition ${editionId}`, { labels: listLabels(labels), n: labels.length })];
  });
  if (problems.length > 0) throw new Refusal(problems);
  return pieces.map((piece) => {
    const engraved = known.get(piece.label)!.parts.filter((part) => part.state === 'engraved');
    return { ...piece, done: new Set(engraved.flatMap(({ part }) => part ?? [])) };
  });
}
