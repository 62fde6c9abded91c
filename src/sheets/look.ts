/** Black, one second colour as printers have always had, and one grey. All text is at least 4.5 : 1 on white. */
export const INK = '#1a1a1a';
export const QUIET = '#555555';
export const SECOND = '#8a3324';
export const SECOND_TINT = '#f8ece8';
export const PAPER = '#ffffff';

export const SERIF = "Georgia, 'Times New Roman', Times, serif";
export const SANS = "Helvetica, Arial, 'Liberation Sans', 'DejaVu Sans', sans-serif";

/** Smallest type on any sheet, mm: its capitals and figures stand 1.8 mm high. */
export const SMALL_MM = 2.6;

/**
 * Width of a line of type, mm, told a little wide: the reader's typeface is not known, and a widely drawn one must
 * fit too.
 */
export function typeWidth(text: string, size: number): number {
  let em = 0;
  for (const c of text) em += emOf(c);
  return em * size;
}

function emOf(c: string): number {
  if ("iIjlft.,:;'|!()[] /-r".includes(c)) return 0.42;
  if ('mwMW%@—…'.includes(c)) return 1.02;
  if (
    /[\u1100-\u115f\u2e80-\ua4cf\uac00-\ud7a3\uf900-\ufaff\ufe30-\ufe4f\uff00-\uff60]|[\u{1f000}-\u{3ffff}]/u.test(
      c,
    )
  )
    return 1.05;
  if (/\p{Lu}/u.test(c)) return 0.78;
  return /\p{M}/u.test(c) ? 0 : 0.66;
}

/** A text broken into at most `most` lines of `width` mm; what does not fit is told by an ellipsis. */
export function broken(text: string, size: number, width: number, most: number): string[] {
  const lines: string[] = [];
  let line = '';
  const room = (one: string): boolean => typeWidth(one, size) <= width;
  for (const word of text.split(' ').flatMap((w) => pieces(w, size, width))) {
    const next = line === '' ? word : `${line} ${word}`;
    if (line === '' || room(next)) line = next;
    else {
      lines.push(line);
      line = word;
    }
  }
  if (line !== '' || lines.length === 0) lines.push(line);
  if (lines.length <= most) return lines;
  const last = [...lines[most - 1]!];
  while (last.length > 0 && !room(`${last.join('')}…`)) last.pop();
  return [...lines.slice(0, most - 1), `${last.join('')}…`];
}

/** A word too long for a line, cut where it must be. */
function pieces(word: string, size: number, width: number): string[] {
  const out: string[] = [];
  let piece = '';
  for (const c of word) {
    if (piece !== '' && typeWidth(piece + c, size) > width) {
      out.push(piece);
      piece = '';
    }
    piece += c;
  }
  out.push(piece);
  return out;
}

export interface FittedType {
  readonly size: number;
  readonly lines: readonly string[];
}

/** A text as large as fits one line of `width` mm, from `largest` down; broken at the smallest size when none does. */
export function fitted(text: string, width: number, largest: number, most: number): FittedType {
  const one = typeWidth(text, 1);
  const size = Math.min(largest, one > 0 ? width / one : largest);
  const least = SMALL_MM * 1.25;
  if (size >= least) return { size: Math.floor(size * 10) / 10, lines: [text] };
  return { size: SMALL_MM, lines: broken(text, SMALL_MM, width, most) };
}
