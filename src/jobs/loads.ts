import type { CutBlock } from '../cutting/cuts.js';
import { orderMarks } from '../cutting/order.js';
import { passes } from '../cutting/passes.js';
import { type TraceOf, trace } from '../cutting/trace.js';
import { type CentredGlyph, centred, placeGlyph } from '../layout/place.js';
import { wrapDeg } from '../units.js';
import type { Bench } from './bench.js';
import type { FittedMark } from './fit.js';

/** Marks of an edition cut on one surface with one cutter: what one program of a piece holds. */
export interface Load {
  readonly part: string;
  readonly surfaceId: string;
  readonly cutter: string;
  readonly marks: readonly MarkBlocks[];
}

/** Gives the blocks of one mark for a label; blocks that pieces share are made once. */
export interface MarkBlocks {
  readonly fitted: FittedMark;
  readonly passes: readonly number[];
  blocks(label: string): readonly CutBlock[];
}

/** The loads of an edition, in the order of its designs. */
export function loadsOf(bench: Bench, fitted: readonly FittedMark[]): Load[] {
  const loads = new Map<string, { load: Load; marks: MarkBlocks[] }>();
  for (const one of fitted) {
    const key = `${one.partId} ${one.surface.id} ${one.mark.cutter}`;
    let entry = loads.get(key);
    if (!entry) {
      const marks: MarkBlocks[] = [];
      const load = { part: one.partId, surfaceId: one.surface.id, cutter: one.mark.cutter, marks };
      entry = { load, marks };
      loads.set(key, entry);
    }
    entry.marks.push(markBlocks(bench, one));
  }
  return [...loads.values()].map((e) => e.load);
}

function markBlocks(bench: Bench, fitted: FittedMark): MarkBlocks {
  const { mark, part, surface, size, at, lines, font } = fitted;
  const cutter = bench.documents.cutters.get(mark.cutter)!;
  const material = bench.documents.materials.get(part.material)!;
  const steps = passes(mark.depth, cutter, material);
  const of: TraceOf = { mark: mark.id, font: font.id, size, depth: mark.depth, passes: steps };
  // The mark's middle lies within one turn; its letters run on from there through the seam, so nothing unwinds.
  const middle = { z: at.z, angle: wrapDeg(at.angle) };
  const made = new Map<string, CutBlock | undefined>();
  const blockOf = (one: CentredGlyph): CutBlock | undefined => {
    // Glyph and place decide the block; the full key is spelled out only when it is made.
    const short = `${one.glyph.key} ${one.x}`;
    if (made.has(short)) return made.get(short);
    const placed = placeGlyph(surface, one, size, mark, middle);
    const block = trace(placed, of);
    made.set(short, block);
    return block;
  };
  const blocksOf = (text: string) => centred(lines.get(text)!).flatMap((one) => blockOf(one) ?? []);
  if (mark.kind === 'inscription') {
    const all = blocksOf(mark.text);
    return { fitted, passes: steps, blocks: () => all };
  }
  // Asked for again by the program, the sheet and the proof.
  const byLabel = new Map<string, readonly CutBlock[]>();
  const blocks = (label: string): readonly CutBlock[] => {
    const known = byLabel.get(label);
    if (known) return known;
    const all = blocksOf(label);
    byLabel.set(label, all);
    return all;
  };
  return { fitted, passes: steps, blocks };
}

/** Every block of one piece in one load, in cutting order. */
export const blocksOf = (load: Load, label: string): CutBlock[] =>
  orderMarks(load.marks.map((m) => m.blocks(label)));
