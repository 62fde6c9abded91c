import type { Problem } from '../../problem.js';
import { problem } from '../messages.js';
import type { ParsedDocuments } from '../parsed-documents.js';
import { plainText } from '../quote.js';
import type { Cutter } from '../schema/cutter.js';
import { type Design, isLettered, type Mark } from '../schema/design.js';
import type { Material } from '../schema/material.js';
import { DEEPEST_OF_WALL, type Part } from '../schema/part.js';
import { WIDEST_OF_LETTER } from '../schema/scalar.js';
import type { At } from '../source-places.js';
import { formProblems, strategyProblems } from './mark-form.js';
import { placeProblems } from './mark-place.js';
import { repeatedIds, unknownName } from './reference.js';

/** `fonts` is undefined where the workshop's own list could not be read, and then no font is called unknown. */
export function designProblems(
  design: Design,
  at: At,
  parsed: ParsedDocuments,
  fonts: ReadonlySet<string> | undefined,
): Problem[] {
  const problems = repeatedIds(design.marks, 'marks', at);
  if (!parsed.part.ids.has(design.part)) {
    problems.push(unknownName(at('part'), design.part, 'part', parsed.part.ids));
  }
  const part = parsed.part.sound.get(design.part)?.value;
  for (const [i, mark] of design.marks.entries()) {
    const here: At = (...rest) => at('marks', i, ...rest);
    problems.push(...formProblems(mark, here));
    if (fonts && isLettered(mark) && !fonts.has(mark.font))
      problems.push(unknownName(here('font'), mark.font, 'font', fonts));
    if (!parsed.cutter.ids.has(mark.cutter)) {
      problems.push(unknownName(here('cutter'), mark.cutter, 'cutter', parsed.cutter.ids));
    }
    const cutter = parsed.cutter.sound.get(mark.cutter)?.value;
    problems.push(...placeProblems(mark, part, here));
    if (cutter) {
      problems.push(...strategyProblems(mark, cutter, here), ...cutterProblems(mark, cutter, here));
      problems.push(...clearingProblems(mark, cutter, here));
    }
    if (part) problems.push(...wallProblems(mark, part, here));
    const material = part && parsed.material.sound.get(part.material)?.value;
    if (cutter && material) problems.push(...passProblems(mark, cutter, material, here));
    if (part && cutter) problems.push(...beamProblems(mark, cutter, part, parsed, here));
  }
  return problems;
}

/** Width of the line a cutter leaves at a depth, mm. */
function lineWidth(cutter: Cutter, depth: number): number {
  switch (cutter.shape) {
    case 'cone':
      return cutter.tip + 2 * depth * Math.tan((cutter.angle * Math.PI) / 360);
    case 'ball': {
      const sunk = Math.min(depth, cutter.diameter / 2);
      return 2 * Math.sqrt(sunk * (cutter.diameter - sunk));
    }
    case 'flat':
      return cutter.diameter;
    case 'drag':
    case 'beam':
      return cutter.width;
  }
}

function cutterProblems(mark: Mark, cutter: Cutter, at: At): Problem[] {
  if (mark.depth > cutter.depth) {
    const values = { depth: mark.depth, cutter: plainText(mark.cutter), most: cutter.depth };
    return [problem('documents.too-deep-for-cutter', at('depth'), values)];
  }
  // Elsewhere the cutter keeps within the drawing, or it is for the check of least features to say.
  if (!isLettered(mark) || mark.way !== 'trace') return [];
  const letter = typeof mark.size === 'number' ? mark.size : mark.size.min;
  const width = lineWidth(cutter, mark.depth);
  if (width <= letter * WIDEST_OF_LETTER) return [];
  return [problem('documents.line-too-wide', at('depth'), { width, letter })];
}

/** More passes than this over one line are a slip in `pass`, not engraving. */
const MOST_PASSES = 200;

function passProblems(mark: Mark, cutter: Cutter, material: Material, at: At): Problem[] {
  const pass = Math.min(cutter.pass ?? material.pass, material.pass);
  if (mark.depth / pass <= MOST_PASSES) return [];
  const values = { depth: mark.depth, pass, most: MOST_PASSES };
  return [problem('documents.too-many-passes', at('depth'), values)];
}

/** More lines side by side than this over one height would be a day of clearing. */
const MOST_CLEARING_LINES = 500;

function clearingProblems(mark: Mark, cutter: Cutter, at: At): Problem[] {
  if (mark.kind === 'pattern' || mark.way !== 'clear') return [];
  const size = typeof mark.size === 'number' ? mark.size : mark.size.max;
  const width = lineWidth(cutter, mark.depth);
  if (size <= width * MOST_CLEARING_LINES) return [];
  const values = { size, width, most: MOST_CLEARING_LINES };
  return [problem('documents.too-fine-to-clear', at('way'), values)];
}

function wallProblems(mark: Mark, part: Part, at: At): Problem[] {
  const deepest = part.wall * DEEPEST_OF_WALL;
  if (mark.depth < deepest) return [];
  const values = { depth: mark.depth, wall: part.wall, most: deepest };
  return [problem('documents.too-deep-for-wall', at('depth'), values)];
}

/**
 * Cellulose nitrate takes fire easily, burns fast and needs no outside air for it: Canadian Conservation Institute
 * Notes 15/3, "Display and Storage of Museum Objects Containing Cellulose Nitrate"; NFPA 40, Standard for the
 * Storage and Handling of Cellulose Nitrate Film (both from memory). Local codes and licensed practice come first.
 */
function beamProblems(mark: Mark, cutter: Cutter, part: Part, parsed: ParsedDocuments, at: At): Problem[] {
  if (cutter.shape !== 'beam') return [];
  if (parsed.material.sound.get(part.material)?.value.family !== 'celluloid') return [];
  const values = { cutter: plainText(mark.cutter), material: plainText(part.material) };
  return [problem('documents.beam-on-celluloid', at('cutter'), values)];
}
