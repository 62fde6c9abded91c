import { FontFault, type Table } from './sfnt.js';

/** The glyph a character stands for, or 0 where the font has none. */
export type CharacterMap = (code: number) => number;

/** Unicode maps by platform and encoding, the whole of Unicode before its first plane. */
const UNICODE = ['3.10', '0.6', '0.4', '3.1', '0.3', '0.2', '0.1', '0.0'];

/** OpenType specification 1.9, "cmap": formats 4 and 12, which every Unicode font of today has one of. */
export function characterMap(table: Table): CharacterMap {
  const found = new Map<string, number>();
  const count = table.u16(2);
  for (let i = 0; i < count; i++) {
    const at = 4 + 8 * i;
    const name = `${table.u16(at)}.${table.u16(at + 2)}`;
    if (!found.has(name)) found.set(name, table.u32(at + 4));
  }
  for (const name of UNICODE) {
    const offset = found.get(name);
    if (offset === undefined) continue;
    const map = table.from(offset);
    const format = map.u16(0);
    if (format === 4) return segments(map);
    if (format === 12) return groups(map);
  }
  throw new FontFault(
    'The font has no Unicode character map that is read.',
    'Save it with one from a font editor.',
  );
}

function segments(map: Table): CharacterMap {
  const twice = map.u16(6) & ~1;
  const [ends, starts, deltas, ranges] = [14, 16 + twice, 16 + 2 * twice, 16 + 3 * twice];
  if (ranges + twice > map.length) throw new RangeError('character map past the end of its table');
  return (code) => {
    if (code > 0xffff) return 0;
    for (let i = 0; i < twice; i += 2) {
      if (map.u16(ends + i) < code) continue;
      const start = map.u16(starts + i);
      if (start > code) return 0;
      const delta = map.u16(deltas + i);
      const range = map.u16(ranges + i);
      if (range === 0) return (code + delta) & 0xffff;
      const at = ranges + i + range + 2 * (code - start);
      const glyph = at + 2 <= map.length ? map.u16(at) : 0;
      return glyph === 0 ? 0 : (glyph + delta) & 0xffff;
    }
    return 0;
  };
}

function groups(map: Table): CharacterMap {
  const count = map.u32(12);
  if (16 + 12 * count > map.length) throw new RangeError('character map past the end of its table');
  return (code) => {
    let low = 0;
    let high = count - 1;
    while (low <= high) {
      const middle = (low + high) >> 1;
      const at = 16 + 12 * middle;
      if (map.u32(at + 4) < code) low = middle + 1;
      else if (map.u32(at) > code) high = middle - 1;
      else return map.u32(at + 8) + code - map.u32(at);
    }
    return 0;
  };
}
