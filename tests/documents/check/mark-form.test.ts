import { rmSync } from 'node:fs';
import { expect, test } from 'vitest';
import { loadWorkshop } from '../../../src/documents/load.js';
import { append, both, type Spoil, swap } from '../broken/edit.js';
import { builtInFonts, copyOfGood } from '../workshop-copy.js';

const words = 'designs/barrel-line.yaml';
const number = 'designs/cap-number.yaml';

const add = (line: string): Spoil => swap(words, '    depth: 0.3\n', `    depth: 0.3\n    ${line}\n`);
/** Words that are spread along a ring at one place. */
const spread = (line: string): Spoil =>
  both(
    both(add(line), swap(words, 'baseline: lengthwise', 'baseline: ring')),
    swap(words, 'z: [10, 50]', 'z: 30'),
  );
const motif = (lines: string, place = 'z: 20, angle: 0'): Spoil =>
  append(
    number,
    `  - { id: leaf, kind: motif, artwork: leaf, surface: side, place: { ${place} }, cutter: drag, depth: 0.05, ${lines} }\n`,
  );
const SIZE = 'size: 2';
const trimmed = (place: string): Spoil => motif(`${SIZE}, meets: trim`, place);

test.each<[code: string, where: string, spoil: Spoil]>([
  ['hatch-not-cleared', 'hatch', add('hatch: 0.1')],
  ['pitch-without-helix', 'pitch', add('pitch: 3')],
  ['closes-and-arc', 'arc', spread("closes: { separator: ' ', times: 1 }\n    arc: 90")],
  ['spread-needs-z', 'place.z', both(add('arc: 90'), swap(words, 'baseline: lengthwise', 'baseline: ring'))],
  ['spread-needs-ring', 'arc', both(add('arc: 90'), swap(words, 'z: [10, 50]', 'z: 30'))],
  ['spread-one-row', 'arc', both(spread('arc: 90'), swap(words, 'text: Ebb and flow', 'text: [Ebb, flow]'))],
  ['text-blank', 'text', swap(words, 'text: Ebb and flow', "text: '   '")],
  ['text-blank', 'text', swap(words, 'text: Ebb and flow', 'text: [" ", "\\u00a0\\u200b "]')],
  ['text-blank', 'text', both(spread('closes: {}'), swap(words, 'text: Ebb and flow', "text: ' '"))],
  ['drop-needs-repeat', 'meets', motif(`${SIZE}, meets: drop`)],
  ['one-height', 'size', motif('size: { min: 1, max: 2 }, repeat: { count: 4 }')],
  ['one-height', 'size', motif('size: { min: 1, max: 2 }, meets: trim')],
  ['no-zone', 'place', trimmed('z: [20, 30], angle: 0')],
  ['no-zone', 'place', trimmed('z: 20, angle: any')],
  ['no-zone', 'place', trimmed('z: 20, angle: [0, 90]')],
  ['mirror-odd-count', 'repeat.count', motif(`${SIZE}, repeat: { count: 5, mirror: alternate }`)],
  ['rows-without-rise', 'repeat.rows', motif(`${SIZE}, repeat: { count: 4, rows: 2 }`)],
  ['too-many-repeats', 'repeat.rows', motif(`${SIZE}, repeat: { count: 200, rows: 100, rise: 1 }`)],
  ['groove-needs-cone', 'way', swap(number, '    depth: 0.05\n', '    depth: 0.05\n    way: groove\n')],
  ['cutter-clears-nothing', 'way', swap(number, '    depth: 0.05\n', '    depth: 0.05\n    way: clear\n')],
])('keys of a mark that do not go together: %s', async (code, key, spoil) => {
  const dir = copyOfGood();
  try {
    spoil(dir);
    const loaded = await loadWorkshop(dir, { builtInFonts });
    if (loaded.ok) throw new Error('the broken workshop loaded');
    const found = loaded.problems.filter((p) => p.code === `documents.${code}`);
    expect(
      found.map(({ where }) => where),
      loaded.problems.map((p) => `${p.where} ${p.code}`).join('\n'),
    ).toEqual([expect.stringMatching(new RegExp(`\\.${key.replace('.', '\\.')}\\b`))]);
  } finally {
    rmSync(dir, { recursive: true, force: true });
  }
});
