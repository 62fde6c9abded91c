import type { CutBlock } from '../cutting/cuts.js';
import { cutGlyph } from '../cutting/glyph.js';
import { orderMarks } from '../cutting/order.js';
import { passes } from '../cutting/passes.js';
import type { CutParameters } from '../cutting/strategies.js';
import { isLettered } from '../documents/schema/design.js';
import { type CentredGlyph, centred, placeGlyph } from '../layout/place.js';
import { wrapDeg } from '../units.js';
import type { FittedMark, FittedText } from './fit.js';
import type { MarkToFit } from './marks.js';
import type { Workshop } from './workshop.js';

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
export function loadsOf(workshop: Workshop, fitted: readonly FittedMark[]): Load[] {
  const loads = new Map<string, { load: Load; marks: MarkBlocks[] }>();
  for (const one of fitted) {
    const { partId, surface } = one.of;
    const key = `${partId} ${surface.id} ${one.mark.cutter}`;
    let entry = loads.get(key);
    if (!entry) {
      const marks: MarkBlocks[] = [];
      const load = { part: partId, surfaceId: surface.id, cutter: one.mark.cutter, marks };
      entry = { load, marks };
      loads.set(key, entry);
    }
    entry.marks.push(markBlocks(workshop, one));
  }
  return [...loads.values()].map((e) => e.load);
}

/** How a mark is cut: its cutter, and the passes its material asks for. */
export function cutParameters(workshop: Workshop, { mark, part }: MarkToFit): CutParameters {
  const cutter = workshop.documents.cutters.get(mark.cutter)!;
  const material = workshop.documents.materials.get(part.material)!;
  const way = 'way' in mark ? mark.way : 'trace';
  const steps = passes(mark.depth, cutter, material);
  const keepDirection = 'order' in mark && mark.order.includes('one-way');
  const hatch = 'hatch' in mark && mark.hatch !== undefined ? { hatch: mark.hatch } : {};
  return { way, cutter, depth: mark.depth, passes: steps, keepDirection, ...hatch };
}

function markBlocks(workshop: Workshop, fitted: FittedMark): MarkBlocks {
  const { of, mark, laid } = fitted;
  const how = cutParameters(workshop, of);
  if (of.kind === 'laid') return { fitted, passes: how.passes, blocks: () => laid?.blocks ?? [] };
  const made = new Map<string, CutBlock | undefined>();
  const blockOf = (one: CentredGlyph, { size, at }: FittedText): CutBlock | undefined => {
    // Glyph and place decide the block; the full key is spelled out only when it is made.
    const short = `${one.glyph.key} ${one.x} ${one.y} ${of.each ? `${size} ${at.z} ${at.angle}` : ''}`;
    if (made.has(short)) return made.get(short);
    // The mark's middle lies within one turn; its letters run on from there through the seam, so nothing unwinds.
    const placed = placeGlyph(of.surface, one, size, of.mark, { z: at.z, angle: wrapDeg(at.angle) });
    const block = cutGlyph(placed, { mark: mark.id, font: of.font, size }, how);
    made.set(short, block);
    return block;
  };
  const blocksOf = (setting: FittedText): CutBlock[] =>
    centred(setting.line).flatMap((one) => blockOf(one, setting) ?? []);
  // Asked for again by the program, the sheet and the proof.
  const known = new Map<string, readonly CutBlock[]>();
  const varies = isLettered(mark) && mark.kind !== 'inscription';
  const blocks = (label: string): readonly CutBlock[] => {
    const key = varies ? label : '';
    let all = known.get(key);
    if (!all) {
      const setting = fitted.setting(label);
      all = setting ? blocksOf(setting) : [];
      known.set(key, all);
    }
    return all;
  };
  return { fitted, passes: how.passes, blocks };
}

/** Every block of one piece in one load, in cutting order. */
export const blocksOf = (load: Load, label: string): CutBlock[] =>
  orderMarks(load.marks.map((m) => m.blocks(label)));
