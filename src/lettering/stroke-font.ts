import { SaxesParser } from 'saxes';
import type { PathCommand } from '../geometry/path-command.js';
import type { Problem } from '../problem.js';
import type { FontResult, Glyph } from './font.js';
import { problem } from './messages.js';

/** More than any font for lettering has; a file that names more is not read to its end. */
const MOST_GLYPHS = 20_000;
const MOST_KERNS = 2_000_000;

/** How the glyph names of a digit's variants end. Digits of one width are the plain ones. */
const VARIANTS = { proportional: '.pnum', 'old-style': '.onum' } as const;

/**
 * A stroke font from an SVG font file (SVG 1.1 section 20, "Fonts"): `glyph` paths are taken as the lines a cutter
 * follows, in absolute M, L, Q, C and Z. `cap-height` gives the letter height.
 */
export function strokeFont(id: string, svg: string): FontResult {
  const where = `font ${id}`;
  const read = readSvgFont(svg, where);
  if ('code' in read) return { ok: false, problem: read };
  const { capHeight } = read;
  if (!(capHeight > 0))
    return { ok: false, problem: problem('lettering.stroke-font-without-cap-height', where, {}) };

  const glyphs = new Map<string, Glyph>();
  const names = new Map(read.glyphs.map((g) => [g.character, g.name]));
  for (const { character, name, advance, d } of read.glyphs) {
    const key = character || name;
    if (!isPathData(d) || !Number.isFinite(advance))
      return { ok: false, problem: problem('lettering.stroke-font-glyph', where, { character: key }) };
    glyphs.set(key, lateGlyph(key, advance / capHeight, d, 1 / capHeight));
  }
  return {
    ok: true,
    font: {
      id,
      kind: 'stroke',
      glyph: (character, digits) =>
        (digits !== 'tabular' && glyphs.get(`${names.get(character)}${VARIANTS[digits]}`)) ||
        glyphs.get(character),
      kern: (left, right) => {
        const units = read.kerns.get(`${left.key} ${right.key}`);
        return units === undefined ? 0 : -units / capHeight;
      },
    },
  };
}

/** What an SVG font file says, in font units. */
interface SvgFont {
  readonly capHeight: number;
  readonly glyphs: readonly SvgGlyph[];
  /** How much closer two neighbours stand, by their characters with a space between. */
  readonly kerns: ReadonlyMap<string, number>;
}

interface SvgGlyph {
  readonly character: string;
  readonly name: string;
  readonly advance: number;
  readonly d: string;
}

class FontTooLarge extends Error {}

function readSvgFont(svg: string, where: string): SvgFont | Problem {
  let capHeight = Number.NaN;
  let defaultAdvance = Number.NaN;
  const glyphs: SvgGlyph[] = [];
  const kerns = new Map<string, number>();
  const parser = new SaxesParser();
  try {
    parser.on('opentag', ({ name, attributes: a }) => {
      if (name === 'font') defaultAdvance = Number(a['horiz-adv-x']);
      else if (name === 'font-face') capHeight = Number(a['cap-height']);
      else if (name === 'glyph') {
        const advance = Number(a['horiz-adv-x'] ?? defaultAdvance);
        glyphs.push({ character: a.unicode ?? '', name: a['glyph-name'] ?? '', advance, d: a.d ?? '' });
      } else if (name === 'hkern' && a.u1 && a.u2) {
        const [lefts, rights] = [splitList(a.u1), splitList(a.u2)];
        if (kerns.size + lefts.length * rights.length > MOST_KERNS) throw new FontTooLarge();
        for (const left of lefts) for (const right of rights) kerns.set(`${left} ${right}`, Number(a.k));
      }
      if (glyphs.length > MOST_GLYPHS) throw new FontTooLarge();
    });
    parser.write(svg).close();
  } catch (error) {
    if (error instanceof FontTooLarge)
      return problem('lettering.stroke-font-too-large', where, { glyphs: MOST_GLYPHS, kerns: MOST_KERNS });
    return problem('lettering.stroke-font-not-xml', `${where}:${parser.line}:${parser.column}`, {});
  }
  for (const [pair, k] of kerns)
    if (!Number.isFinite(k)) return problem('lettering.stroke-font-kern', where, { pair });
  return { capHeight, glyphs, kerns };
}

/** A kern's characters: one, or several with commas between; a comma by itself is a comma. */
const splitList = (characters: string): string[] =>
  characters.length === 1 ? [characters] : characters.split(',');

/** A command that issues a number looks at every glyph and draws none: path data is read when a path is asked for. */
function lateGlyph(key: string, advance: number, d: string, scale: number): Glyph {
  let path: readonly PathCommand[] | undefined;
  return {
    key,
    advance,
    get path() {
      path ??= parsePath(d, scale);
      return path;
    },
  };
}

const NUMBERS_EACH: Readonly<Record<string, number>> = { M: 2, L: 2, Q: 4, C: 6, Z: 0 };
const NUMBER = /[-+]?(?:\d+\.?\d*|\.\d+)/g;
/** Path data in which each number is a nought and no blank is left. */
const SOUND = /^(?:M(?:,*0,*0)+(?:[ML](?:,*0,*0)+|Q(?:(?:,*0){4})+|C(?:(?:,*0){6})+|Z)*)?$/;

/** Whether path data holds only absolute M, L, Q, C and Z, each with its numbers, and begins with M. */
const isPathData = (d: string): boolean => SOUND.test(d.replace(NUMBER, '0').replace(/\s+/g, ''));

/** A command with the numbers after it. */
const COMMAND = /([MLQCZ])([^MLQCZ]*)/g;

/** The commands of sound path data. */
function parsePath(d: string, scale: number): PathCommand[] {
  const path: PathCommand[] = [];
  for (const [, command = '', run = ''] of d.matchAll(COMMAND)) {
    const numbers = (run.match(NUMBER) ?? []).map((n) => Number(n) * scale);
    const each = NUMBERS_EACH[command]!;
    if (each === 0) path.push(['Z']);
    for (let k = 0; k < numbers.length; k += each)
      // More points after a move are joined by lines.
      path.push([
        k > 0 && command === 'M' ? 'L' : command,
        ...numbers.slice(k, k + each),
      ] as unknown as PathCommand);
  }
  return path;
}
