/** What burin uses of opentype.js 2.0, which comes without types of its own. */
declare module 'opentype.js' {
  /** Font units, y up. */
  export type PathCommand =
    | { type: 'M' | 'L'; x: number; y: number }
    | { type: 'Q'; x1: number; y1: number; x: number; y: number }
    | { type: 'C'; x1: number; y1: number; x2: number; y2: number; x: number; y: number }
    | { type: 'Z' };

  export class Path {
    commands: PathCommand[];
    moveTo(x: number, y: number): void;
    lineTo(x: number, y: number): void;
    curveTo(x1: number, y1: number, x2: number, y2: number, x: number, y: number): void;
    close(): void;
  }

  export class Glyph {
    constructor(options: { name: string; unicode: number; advanceWidth: number; path: Path });
    /** The outline as the font has it, not scaled. Glyphs of a file are drawn when it is first asked for. */
    readonly path: Path;
  }

  export class Font {
    constructor(options: {
      familyName: string;
      styleName: string;
      unitsPerEm: number;
      ascender: number;
      descender: number;
      glyphs: readonly Glyph[];
    });
    readonly glyphs: { get(index: number): Glyph };
    getKerningValue(left: Glyph, right: Glyph): number;
    charToGlyph(character: string): Glyph;
    toArrayBuffer(): ArrayBuffer;
  }

  /** Reads a TTF, OTF or WOFF file. Throws an Error at what it cannot read. */
  export function parse(file: ArrayBuffer): Font;

  const opentype: {
    Path: typeof Path;
    Glyph: typeof Glyph;
    Font: typeof Font;
    parse: typeof parse;
  };
  export default opentype;
}
