import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { parse, stringify } from 'yaml';
import { loadWorkshop } from '../../src/documents/load.js';
import { builtInFonts, copyOfGood } from './workshop-copy.js';

const cut = {
  surface: 'side',
  place: { z: 8, angle: 0 },
  cutter: 'drag',
  depth: 0.05,
};
const words = { ...cut, kind: 'inscription', baseline: 'ring', font: 'burin-plain', size: 1.8 };
const pattern = { ...cut, kind: 'pattern' };
const line = { amplitude: 0.5, rise: 1 };

/** Values that a later step could not carry in bounded time or memory, and the code that refuses each. */
const MARKS: readonly [name: string, mark: Record<string, unknown>, code: string][] = [
  [
    'a size range from next to nothing',
    { ...words, text: 'A', size: { min: 0.0000005, max: 2 } },
    'documents.too-small',
  ],
  ['land wider than any hollow', { ...words, text: 'A', land: 775 }, 'documents.too-large'],
  ['letters larger than a hand', { ...words, text: 'A', size: 900 }, 'documents.too-large'],
  [
    'forty rows of two hundred letters',
    { ...words, text: Array(40).fill('W'.repeat(200)) },
    'documents.too-many-letters',
  ],
  [
    'words five hundred times round the ring',
    { ...words, text: 'Nine Lights', closes: { times: 500 } },
    'documents.too-many-letters',
  ],
  [
    'a helix that does not climb',
    { ...words, text: 'A', baseline: 'helix', pitch: 0.000001 },
    'documents.helix-without-pitch',
  ],
  [
    'rows of waves without end',
    { ...pattern, pattern: { form: 'waves', count: 2000, rows: 500, ...line } },
    'documents.too-many-waves',
  ],
  [
    'rosettes without end',
    { ...pattern, pattern: { form: 'rosettes', count: 400, rows: 500, radius: 1, lobes: 6, curves: 6 } },
    'documents.too-many-waves',
  ],
  [
    'rows nearer than a hair',
    { ...pattern, pattern: { form: 'waves', count: 8, rows: 500, amplitude: 0.1, rise: 1e-9 } },
    'documents.too-small',
  ],
  [
    'a drawing a million times',
    { ...cut, kind: 'motif', artwork: 'leaf', size: 1, repeat: { count: 2000, rows: 500, rise: 1 } },
    'documents.too-many-repeats',
  ],
];

function change(dir: string, file: string, work: (doc: Record<string, unknown>) => void): void {
  const at = path.join(dir, file);
  const doc = parse(readFileSync(at, 'utf8')) as Record<string, unknown>;
  work(doc);
  writeFileSync(at, stringify(doc));
}

async function codesOf(spoil: (dir: string) => void): Promise<string[]> {
  const dir = copyOfGood();
  try {
    spoil(dir);
    const loaded = await loadWorkshop(dir, { builtInFonts });
    return loaded.ok ? [] : loaded.problems.map(({ code }) => code);
  } finally {
    rmSync(dir, { recursive: true, force: true });
  }
}

test.each(MARKS)('check refuses %s', async (_, mark, code) => {
  const codes = await codesOf((dir) =>
    change(dir, 'designs/cap-number.yaml', (doc) => {
      doc.marks = [{ id: 'mark', ...mark }];
    }),
  );
  expect(codes).toContain(code);
});

test('check refuses passes that never come to the depth', async () => {
  const pass = (depth: number) => (dir: string) =>
    change(dir, 'materials/silver.yaml', (doc) => {
      doc.pass = depth;
    });
  expect(await codesOf(pass(1e-10))).toEqual(['documents.too-small']);
  const deep = (dir: string) => {
    pass(0.001)(dir);
    change(dir, 'designs/cap-number.yaml', (doc) => {
      (doc.marks as Record<string, unknown>[])[0]!.depth = 0.25;
    });
    change(dir, 'cutters/drag.yaml', (doc) => {
      doc.depth = 0.3;
    });
  };
  expect(await codesOf(deep)).toContain('documents.too-many-passes');
});

test('check refuses windows of more corners than can be held against one another', async () => {
  const windows = (dir: string) =>
    change(dir, 'parts/cap.yaml', (doc) => {
      const outline = Array.from({ length: 2000 }, (_, i) => ({
        z: 30 + 5 * Math.sin((2 * Math.PI * i) / 2000),
        angle: 90 + 20 * Math.cos((2 * Math.PI * i) / 2000),
      }));
      doc.keepouts = Array.from({ length: 4 }, (_, i) => ({
        id: `w${i}`,
        kind: 'window',
        outline: outline.map((corner) => ({ ...corner })),
      }));
    });
  expect(await codesOf(windows)).toContain('documents.yaml-too-long');
});
