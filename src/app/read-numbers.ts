import type { Operation } from '../cutting/operation.js';
import { TextReader } from '../cutting/read-text.js';
import type { Cutter } from '../documents/schema/cutter.js';
import type { ShapedLine } from '../lettering/shaped-line.js';
import type { MachineSetup } from '../station/machine-setup.js';
import type { ReadCut } from '../station/readback.js';

/** What a person would read where a number was to be cut, and what it was to be; without blanks. */
export interface ReadNumber {
  readonly mark: string;
  readonly reads: string;
  readonly wanted: string;
}

/** Reads the numbers of a label from the moves of a program. */
export type NumberReader = (label: string, cuts: readonly ReadCut[]) => ReadNumber[];

/** Reads the numbers that an operation cuts on a station that is set up for it. */
export function numberReader({ marks }: Operation, setup: MachineSetup, cutter: Cutter): NumberReader {
  const tool = { surface: setup.surface, setup: setup.station.setup, cutter };
  const readers = new Map<string, TextReader>();
  return (label, cuts) => {
    const moves = cuts.flatMap((cut) => cut.steps);
    return marks.flatMap(({ fitted }) => {
      const { of, mark } = fitted;
      const text = fitted.textOf(label);
      if (of.kind !== 'line' || mark.kind !== 'number' || !text) return [];
      const { line, size, at } = text;
      const key = `${mark.id} ${size}`;
      const { font } = of;
      const { figures, depth, way } = mark;
      const lettering = { font, size, direction: mark, figures, depth, isTraced: way === 'trace' };
      const reader = readers.get(key) ?? new TextReader(tool, lettering);
      readers.set(key, reader);
      return [{ mark: mark.id, reads: reader.read(moves, line, at), wanted: charactersCut(line) }];
    });
  };
}

const charactersCut = ({ glyphs }: ShapedLine): string =>
  glyphs
    .filter(({ glyph }) => glyph.path.length > 0)
    .map(({ character }) => character)
    .join('');
