import { SaxesParser } from 'saxes';
import type { PathCommand } from '../geometry/path-command.js';
import { type Problem, problem } from '../problem.js';
import type { Font, Glyph } from './font.js';

/**
 * A stroke font from an SVG font file (SVG 1.1 section 20, "Fonts"): `glyph` paths are taken as the lines a cutter
 * follows, in absolute M, L, Q, C and Z. `cap-height` gives the letter height.
 */
export function strokeFont(
  id: string,
  svg: string,
): { ok: true; font: Font } | { ok: false; problem: Problem } {
  const bad = (what: string, cure: string) => ({
    ok: false as const,
    problem: problem(`font ${id}`, what, cure),
  });
  let capHeight = Number.NaN;
  let defaultAdvance = Number.NaN;
  const raw: { character: string; name: string; advance: number; d: string }[] = [];
  const rawKerns: [string, string, number][] = [];
  const parser = new SaxesParser();
  try {
    parser.on('opentag', ({ name, attributes: a }) => {
      if (name === 'font') defaultAdvance = Number(a['horiz-adv-x']);
      else if (name === 'font-face') capHeight = Number(a['cap-height']);
      else if (name === 'glyph') {
        const advance = Number(a['horiz-adv-x'] ?? defaultAdvance);
        raw.push({ character: a.unicode ?? '', name: a['glyph-name'] ?? '', advance, d: a.d ?? '' });
      } else if (name === 'hkern' && a.u1 && a.u2)
        for (const left of listed(a.u1))
          for (const right of listed(a.u2)) rawKerns.push([left, right, Number(a.k)]);
    });
    parser.write(svg).close();
  } catch (error) {
    return bad(
      `is not well-formed XML (${String((error as Error).message).slice(0, 60)}).`,
      'Save it again as an SVG font.',
    );
  }
  if (!(capHeight > 0)) return bad('gives no cap-height.', 'Add cap-height to its font-face.');

  const glyphs = new Map<string, Glyph>();
  const names = new Map(raw.map((g) => [g.character, g.name]));
  for (const { character, name, advance, d } of raw) {
    const path = parsePath(d, 1 / capHeight);
    if (!path || !Number.isFinite(advance))
      return bad(`cannot read the glyph for "${character}".`, 'Draw it with absolute M, L, Q, C and Z only.');
    const key = character || name;
    glyphs.set(key, { key, advance: advance / capHeight, path });
  }
  const kerns = new Map(rawKerns.map(([l, r, k]) => [`${l} ${r}`, -k / capHeight]));
  return {
    ok: true,
    font: {
      id,
      kind: 'stroke',
      glyph: (character, figures) =>
        (figures !== 'tabular' && glyphs.get(`${names.get(character)}${VARIANTS[figures]}`)) ||
        glyphs.get(character),
      kern: (left, right) => kerns.get(`${left.key} ${right.key}`) ?? 0,
    },
  };
}

/** How the names of figures' variants end: of their own widths, and old-style ones; those of one width are the plain. */
const VARIANTS = { proportional: '.pnum', 'old-style': '.onum' } as const;

/** A kern's characters: one, or several with commas between; a comma by itself is a comma. */
const listed = (characters: string): string[] =>
  characters.length === 1 ? [characters] : characters.split(',');

const COUNTS: Record<string, number> = { M: 2, L: 2, Q: 4, C: 6, Z: 0 };

function parsePath(d: string, scale: number): PathCommand[] | undefined {
  const tokens = d.match(/[A-Za-z]|[-+]?(?:\d+\.?\d*|\.\d+)/g) ?? [];
  const path: PathCommand[] = [];
  let command = '';
  for (let i = 0; i < tokens.length; ) {
    if (/[A-Za-z]/.test(tokens[i]!)) command = tokens[i++]!;
    const count = COUNTS[command];
    if (count === undefined) return undefined;
    const figures = tokens.slice(i, i + count).map((t) => Number(t) * scale);
    if (figures.length < count || figures.some((v) => !Number.isFinite(v))) return undefined;
    path.push([command, ...figures] as unknown as PathCommand);
    i += count;
    if (command === 'M') command = 'L';
    if (count === 0) command = '';
  }
  return path;
}
