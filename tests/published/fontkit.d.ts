declare module 'fontkit' {
  export interface FontkitCommand {
    readonly command: 'moveTo' | 'lineTo' | 'quadraticCurveTo' | 'bezierCurveTo' | 'closePath';
    readonly args: readonly number[];
  }
  export interface FontkitGlyph {
    readonly id: number;
    readonly advanceWidth: number;
    readonly path: { readonly commands: readonly FontkitCommand[] };
  }
  export interface FontkitRun {
    readonly glyphs: readonly FontkitGlyph[];
    readonly positions: readonly { readonly xAdvance: number }[];
  }
  export interface FontkitFont {
    readonly unitsPerEm: number;
    readonly characterSet: readonly number[];
    glyphForCodePoint(code: number): FontkitGlyph;
    layout(text: string, features: Readonly<Record<string, boolean>>, script: string): FontkitRun;
  }
  export function create(bytes: Uint8Array): FontkitFont;
}
