import { isLettered } from '../documents/schema/design.js';
import type { FittedText } from '../layout/fit-marks.js';
import { type FittedMark, fittedMark } from '../layout/fitted-mark.js';
import { type CentredGlyph, centreGlyphs, placeGlyph } from '../layout/glyph-placement.js';
import { whereOf } from '../layout/mark-to-fit.js';
import { within } from '../problem.js';
import { wrapDeg } from '../units.js';
import { cutParameters } from './cut-parameters.js';
import { CutWork } from './cut-work.js';
import type { CutBlock } from './cuts.js';
import { cutGlyph, type KnownGlyphs } from './glyph.js';
import type { MarkCut } from './mark-cut.js';
import type { LabelFinding } from './min-feature-check.js';
import { orderMarks } from './order.js';

/** The marks of an edition cut on one surface with one cutter: what one program of a piece holds. */
export interface Operation {
  readonly part: string;
  readonly surfaceId: string;
  readonly cutter: string;
  readonly marks: readonly MarkBlocks[];
}

/** What is cut of one mark; pieces share the blocks that do not differ. */
export interface MarkBlocks {
  readonly fitted: FittedMark;
  /** Depth of each pass in order, mm. */
  readonly passes: readonly number[];
  readonly minFeatures: readonly LabelFinding[];
  /** In cutting order, by label; without the labels that have nothing of this mark. */
  readonly blocks: ReadonlyMap<string, readonly CutBlock[]>;
}

/** The operations of an edition for some of its labels, in the order of its marks. */
export type OperationMaker = (labels: readonly string[]) => Operation[];

/** Cuts the marks of an edition, each of which fits. A block is made when the first label needs it, and once. */
export function operationMaker(marks: readonly MarkCut[], work = new CutWork()): OperationMaker {
  const operations = new Map<string, Omit<Operation, 'marks'> & { cutters: MarkCutter[] }>();
  for (const one of marks) {
    const { partId, surface, mark } = one.fit.of;
    const key = `${partId} ${surface.id} ${mark.cutter}`;
    const operation = operations.get(key);
    if (operation) operation.cutters.push(markCutter(one, work));
    else
      operations.set(key, {
        part: partId,
        surfaceId: surface.id,
        cutter: mark.cutter,
        cutters: [markCutter(one, work)],
      });
  }
  return (labels) =>
    [...operations.values()].map(({ cutters, ...operation }) => ({
      ...operation,
      marks: cutters.map(({ blocks, ...mark }) => ({ ...mark, blocks: byLabel(labels, blocks) })),
    }));
}

function byLabel(
  labels: readonly string[],
  blocks: MarkCutter['blocks'],
): ReadonlyMap<string, readonly CutBlock[]> {
  const all = labels.map((label) => [label, blocks(label)] as const);
  return new Map(all.filter(([, own]) => own.length > 0));
}

/** Gives the blocks of one mark for a label. */
interface MarkCutter extends Omit<MarkBlocks, 'blocks'> {
  blocks(label: string): readonly CutBlock[];
}

function markCutter({ fit, cutter, material, pattern, minFeatures }: MarkCut, work: CutWork): MarkCutter {
  const fitted = fittedMark(fit);
  const { of, mark } = fitted;
  const parameters = cutParameters(mark, cutter, material);
  const base = { fitted, passes: parameters.passes, minFeatures };
  if (of.kind === 'tiled') return { ...base, blocks: () => pattern?.blocks ?? [] };
  const made = new Map<string, Map<number, Map<number, CutBlock | undefined>>>();
  const cuts: KnownGlyphs = new Map();
  const blockOf = (one: CentredGlyph, { size, at }: FittedText): CutBlock | undefined => {
    // Glyph and place decide the block; the full key is spelled out only when it is made.
    const { key } = one.glyph;
    const kind = of.each ? `${key} ${size} ${at.z} ${at.angle}` : key;
    const rows = made.get(kind) ?? new Map<number, Map<number, CutBlock | undefined>>();
    made.set(kind, rows);
    const row = rows.get(one.y) ?? new Map<number, CutBlock | undefined>();
    rows.set(one.y, row);
    if (row.has(one.x)) return row.get(one.x);
    // The mark's middle lies within one turn; its letters run on from there through the seam, so nothing unwinds.
    const placed = placeGlyph(of.surface, one, size, of.mark, { z: at.z, angle: wrapDeg(at.angle) });
    const block = within(`${whereOf(of)}: ${placed.character}`, () =>
      cutGlyph(placed, { mark: mark.id, font: of.font, size }, parameters, cuts, work),
    );
    row.set(one.x, block);
    return block;
  };
  const blocksOfText = (text: FittedText): CutBlock[] =>
    centreGlyphs(text.line).flatMap((one) => blockOf(one, text) ?? []);
  const known = new Map<string, readonly CutBlock[]>();
  const varies = isLettered(mark) && mark.kind !== 'inscription';
  const blocks = (label: string): readonly CutBlock[] => {
    const key = varies ? label : '';
    let all = known.get(key);
    if (!all) {
      const text = fitted.textOf(label);
      all = text ? blocksOfText(text) : [];
      known.set(key, all);
    }
    return all;
  };
  return { ...base, blocks };
}

/** Every block of one piece in one operation, in cutting order. */
export const blocksOf = (operation: Operation, label: string): CutBlock[] =>
  orderMarks(operation.marks.map((m) => m.blocks.get(label) ?? []));
