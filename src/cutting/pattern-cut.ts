import type { Path } from '../geometry/path.js';
import type { TiledMark } from '../layout/mark-to-fit.js';
import { problem } from '../layout/messages.js';
import type { PatternInstance } from '../layout/pattern-instances.js';
import type { TiledPattern } from '../layout/tile-pattern.js';
import { type Problem, within } from '../problem.js';
import type { CutWork } from './cut-work.js';
import type { CutBlock } from './cuts.js';
import { orderLines, orderTour } from './order.js';
import { type CutParameters, cutLines, type DrawingCut } from './strategies.js';

/** The blocks of a tiled mark, the same on every piece, and how many of its instances came to be cut. */
export interface PatternCut {
  readonly blocks: readonly CutBlock[];
  readonly kept: number;
  readonly trimmed: number;
  /** Left out by the layout, or too narrow for the cutter. */
  readonly dropped: number;
  /** Their `where` is inside that of the mark. */
  readonly problems: readonly Problem[];
}

/** Cuts what the layout has placed of a tiled mark, in an order with short moves between. */
export function cutPattern(
  of: TiledMark,
  pattern: TiledPattern,
  parameters: CutParameters,
  work: CutWork,
): PatternCut {
  const blocks: CutBlock[] = [];
  const counts = { kept: 0, trimmed: 0, dropped: pattern.dropped };
  const known: KnownCuts = new Map();
  for (const instance of pattern.instances) {
    const made = within(instance.name, () => blocksOf(of.mark.id, instance, { parameters, known, work }));
    blocks.push(...made);
    if (made.length === 0) counts.dropped++;
    else if (instance.trimmed) counts.trimmed++;
    else counts.kept++;
  }
  const empty = blocks.length === 0 && pattern.problems.length === 0;
  const options = {
    smallFirst: of.mark.order.includes('small-first'),
    keepDirection: parameters.keepDirection ?? false,
  };
  return {
    blocks: orderTour(of.surface, blocks, options),
    ...counts,
    problems: empty ? [problem('layout.nothing-left', '', {})] : [],
  };
}

/** What cuts the areas or the lines of instances: the same list of either is cut once. */
type KnownCuts = Map<readonly Path[], DrawingCut>;

/** A block of the areas, and one of the lines, so that each is drawn as what it is. */
function blocksOf(
  mark: string,
  { key, name, turn, areas, lines }: PatternInstance,
  { parameters, known, work }: { parameters: CutParameters; known: KnownCuts; work: CutWork },
): CutBlock[] {
  const once = (paths: readonly Path[], cut: () => DrawingCut): DrawingCut => {
    const made = known.get(paths) ?? cut();
    known.set(paths, made);
    return made;
  };
  const of = { mark, name, turn, depth: parameters.depth, passes: parameters.passes };
  const made: CutBlock[] = [
    { ...of, key: `${key} areas`, ...once(areas, () => cutLines(areas, true, parameters, work)) },
    {
      ...of,
      key: `${key} lines`,
      ...once(lines, () => ({ lines: orderLines(lines, parameters.keepDirection, work) })),
    },
  ];
  return made.filter((b) => b.lines.length > 0);
}
