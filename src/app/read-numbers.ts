import type { Operation } from '../cutting/operation.js';
import { readText, type TextToRead } from '../cutting/read-text.js';
import type { Cutter } from '../documents/schema/cutter.js';
import type { MachineSetup } from '../station/machine-setup.js';
import type { ReadCut } from '../station/readback.js';

/** Characters that the letters of a number are held against, beside its own. */
const LOOK_ALIKES = '0123456789/IVXLCDMOQBSZGTl|';

/** What a person would read where a number was to be cut, and what it was to be; without blanks. */
export interface ReadNumber {
  readonly mark: string;
  readonly reads: string;
  readonly wanted: string;
}

/** The numbers of a label that an operation cuts, read from the moves of a program. */
export function numbersRead(
  operation: Operation,
  label: string,
  { setup, cutter, cuts }: { setup: MachineSetup; cutter: Cutter; cuts: readonly ReadCut[] },
): ReadNumber[] {
  const tool = { surface: setup.surface, setup: setup.station.setup, cutter };
  const moves = cuts.flatMap((cut) => cut.steps);
  return operation.marks.flatMap(({ fitted }) => {
    const { of, mark } = fitted;
    const text = fitted.textOf(label);
    if (of.kind !== 'line' || mark.kind !== 'number' || !text) return [];
    const { line, size, at } = text;
    const asked: TextToRead = {
      ...{ line, size, at, direction: mark, font: of.font, figures: mark.figures, depth: mark.depth },
      others: LOOK_ALIKES,
      isTraced: mark.way === 'trace',
    };
    const wanted = line.glyphs
      .filter(({ glyph }) => glyph.path.length > 0)
      .map(({ character }) => character)
      .join('');
    return [{ mark: mark.id, reads: readText(tool, moves, asked), wanted }];
  });
}
