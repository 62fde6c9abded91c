import { SMALL_MM } from './theme.js';

/**
 * Width of a line of text, mm, estimated a little wide: the reader's typeface is not known, and a wide one must fit
 * too.
 */
export function textWidth(text: string, size: number): number {
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

/** A text broken into at most `most` lines of `width` mm; where it does not fit, the last line ends in an ellipsis. */
export function breakLines(text: string, size: number, width: number, most: number): string[] {
  const lines: string[] = [];
  let line = '';
  const fits = (one: string): boolean => textWidth(one, size) <= width;
  for (const word of text.split(' ').flatMap((w) => pieces(w, size, width))) {
    const next = line === '' ? word : `${line} ${word}`;
    if (line === '' || fits(next)) line = next;
    else {
      lines.push(line);
      line = word;
    }
  }
  if (line !== '' || lines.length === 0) lines.push(line);
  if (lines.length <= most) return lines;
  const last = [...lines[most - 1]!];
  while (last.length > 0 && !fits(`${last.join('')}…`)) last.pop();
  return [...lines.slice(0, most - 1), `${last.join('')}…`];
}

/** A word too long for a line, cut after a hyphen where it has one, else where it must be. */
function pieces(word: string, size: number, width: number): string[] {
  const out: string[] = [];
  let piece = '';
  for (const c of word) {
    if (piece !== '' && textWidth(piece + c, size) > width) {
      const end = piece.lastIndexOf('-') + 1 || piece.length;
      out.push(piece.slice(0, end));
      piece = piece.slice(end);
    }
    piece += c;
  }
  out.push(piece);
  return out;
}

export interface SizedLines {
  readonly size: number;
  readonly lines: readonly string[];
}

/** A text as large as fits one line of `width` mm, from `largest` down; broken at the smallest size when none does. */
export function fitText(text: string, width: number, largest: number, most: number): SizedLines {
  const one = textWidth(text, 1);
  const size = Math.min(largest, one > 0 ? width / one : largest);
  const least = SMALL_MM * 1.25;
  if (size >= least) return { size: Math.floor(size * 10) / 10, lines: [text] };
  return { size: SMALL_MM, lines: breakLines(text, SMALL_MM, width, most) };
}
