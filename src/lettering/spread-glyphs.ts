import { isWordSpace } from './characters.js';
import type { LineGlyph } from './shaped-line.js';

/**
 * Glyphs with `extra` letter heights shared equally among their word spaces, or among the gaps between all of them where
 * there is no word space. In a `ring` the gap after the last glyph, which leads to the first, counts too.
 */
export function spreadGlyphs(glyphs: readonly LineGlyph[], extra: number, ring = false): LineGlyph[] {
  const last = ring ? glyphs.length : glyphs.length - 1;
  const spaces = glyphs.slice(0, last).filter((g) => isWordSpace(g.character)).length;
  const share = extra / Math.max(1, spaces || last);
  let gaps = 0;
  return glyphs.map((g) => {
    const x = g.x + share * gaps;
    if (spaces === 0 || isWordSpace(g.character)) gaps++;
    return { ...g, x };
  });
}
