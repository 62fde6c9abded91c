import type { Glyph } from './glyph.js';
import type { Kern } from './kerning.js';
import { CAP, TAIL } from './metrics.js';
import type { Stroke } from './pen.js';
import type { Drawing } from './style.js';

/** A tenth of a unit is 0.2 µm at 2 mm lettering: finer than any machine, and short enough to read. */
export function number(value: number): string {
  const rounded = Math.round(value * 10) / 10;
  return String(rounded === 0 ? 0 : rounded);
}

const pair = (x: number, y: number): string => `${number(x)} ${number(y)}`;

function strokeData(stroke: Stroke): string {
  const words = [`M${pair(...stroke.start)}`];
  stroke.pieces.forEach((piece, i) => {
    if (piece.kind === 'cubic') {
      words.push(`C${pair(...piece.leave)} ${pair(...piece.arrive)} ${pair(...piece.to)}`);
      return;
    }
    // Closing draws the last straight side by itself.
    const closes = stroke.closed && i === stroke.pieces.length - 1;
    if (!closes) words.push(`L${pair(...piece.to)}`);
  });
  if (stroke.closed) words.push('Z');
  return words.join('');
}

export const pathData = (glyph: Glyph): string => glyph.strokes.map(strokeData).join('');

export function escapeXml(text: string): string {
  return text.replace(/[&<>"\u00a0]/g, (char) => `&#x${char.codePointAt(0)!.toString(16)};`);
}

function glyphLine(glyph: Glyph): string {
  const d = pathData(glyph);
  const shape = d === '' ? '' : ` d="${d}"`;
  // A variant has no character of its own: its name is that of the glyph it stands for, and what kind it is.
  const unicode = glyph.char === '' ? '' : ` unicode="${escapeXml(glyph.char)}"`;
  return `<glyph${unicode} glyph-name="${glyph.name}" horiz-adv-x="${glyph.advance}"${shape}/>`;
}

/**
 * The SVG font as text. Paths are open centre lines to be stroked, never filled, in absolute M, L, C and Z. The em
 * is the lettering height, so that a font size is the height of a capital's tool path.
 */
export function writeFont(drawing: Drawing): string {
  const lines = [
    '<?xml version="1.0" encoding="UTF-8"?>',
    '<svg xmlns="http://www.w3.org/2000/svg" version="1.1">',
    `<metadata>${drawing.note} Centre lines to be stroked, not filled; font size is the height of capitals over the centre line. Written from its drawing source; edit that, not this.</metadata>`,
    '<defs>',
    `<font id="${drawing.id}" horiz-adv-x="800">`,
    `<font-face font-family="${drawing.family}" font-weight="400" font-style="normal" units-per-em="${CAP}" cap-height="${CAP}" x-height="${drawing.xHeight}" ascent="${CAP}" descent="${TAIL}"/>`,
    `<missing-glyph horiz-adv-x="${drawing.missing.advance}" d="${pathData(drawing.missing)}"/>`,
    ...drawing.glyphs.map(glyphLine),
    ...kernLines(drawing.kerns),
    '</font>',
    '</defs>',
    '</svg>',
  ];
  return `${lines.join('\n')}\n`;
}

/** Kerns that agree are written together, characters with commas between; a comma itself stands alone. */
function kernLines(kerns: readonly Kern[]): string[] {
  const rights = new Map<string, string[]>();
  for (const { left, right, tighter } of kerns) {
    const key = `${left}\n${tighter}\n${right === ',' ? ',' : ''}`;
    rights.set(key, [...(rights.get(key) ?? []), right]);
  }
  const lefts = new Map<string, string[]>();
  for (const [key, some] of rights) {
    const [left, tighter] = key.split('\n') as [string, string];
    const same = `${some.join(',')}\n${tighter}`;
    lefts.set(same, [...(lefts.get(same) ?? []), left]);
  }
  return [...lefts].map(([same, left]) => {
    const [right, tighter] = same.split('\n') as [string, string];
    return `<hkern u1="${escapeXml(left.join(','))}" u2="${escapeXml(right)}" k="${tighter}"/>`;
  });
}
