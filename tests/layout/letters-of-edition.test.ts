import { describe, expect, test } from 'vitest';
import { checkMarks, type MarkSources, MOST_LETTERS, marksToFit } from '../../src/layout/mark-to-fit.js';
import type { Font } from '../../src/lettering/font.js';
import { Refusal } from '../../src/problem.js';
import { surfaceOf } from '../../src/surface/part-surfaces.js';
import { barrel, font } from './requests.js';

/** An edition whose pieces have some numbers of eight characters, and how often its font was asked for a letter. */
function edition(pieces: number, marks: readonly object[]) {
  let asked = 0;
  const counted: Font = {
    ...font,
    glyph: (character, digits) => {
      asked++;
      return font.glyph(character, digits);
    },
  };
  const part = barrel(12, 12);
  const mark = {
    ...{ kind: 'number', surface: 's', place: { z: 20, angle: 0 }, size: 2, font: 'f', figures: 'tabular' },
    ...{ spacing: 0, capitals: 'as-typed', baseline: 'ring', way: 'trace', cutter: 'c', depth: 0.1 },
  };
  const sources = {
    designs: [
      {
        id: 'd',
        design: { part: 'p', marks: marks.map((own, k) => ({ ...mark, id: `m${k}`, ...own })) },
        part,
        surfaces: new Map([
          ['s', { surface: surfaceOf(part, 's')!, obstacles: [], proud: { level: 0, tilted: 0 } }],
        ]),
      },
    ],
    cutters: new Map([['c', { shape: 'cone', tip: 0.1, angle: 40 }]]),
    fonts: new Map([['f', counted]]),
    motifs: new Map(),
    labels: Array.from({ length: pieces }, (_, k) => ({
      series: 'main',
      number: k + 1,
      label: `No ${String(k + 1).padStart(5, '0')}`,
    })),
  } as unknown as MarkSources;
  return { sources, asked: () => asked };
}

describe('the letters of an edition', () => {
  test('are shaped once for all number marks that are set alike', () => {
    const askedFor = (...marks: object[]) => {
      const { sources, asked } = edition(200, marks);
      expect(marksToFit(sources)).toHaveLength(marks.length);
      return asked();
    };
    const once = askedFor({});
    expect(once).toBeGreaterThanOrEqual(200 * 8);
    expect(askedFor({}, { place: { z: 25, angle: 40 } }, { size: 1 })).toBe(once);
    for (const other of [{ spacing: 0.1 }, { figures: 'proportional' }, { capitals: 'small' }]) {
      expect(askedFor({}, other)).toBe(2 * once);
      const { sources } = edition(2, [{}, other]);
      const alone = edition(2, [other]).sources;
      const lines = (of: MarkSources) => [
        ...(marksToFit(of).at(-1) as unknown as { lines: Map<string, unknown> }).lines,
      ];
      expect(lines(sources)).toEqual(lines(alone));
    }
  });

  test('are checked by the few labels that show which characters are needed', () => {
    const { sources, asked } = edition(2000, [{}]);
    checkMarks(sources);
    // 13 characters, at most one new in each label looked at, each asked for twice.
    expect(asked()).toBeLessThanOrEqual(13 * 8 * 2);
    const missing = edition(2000, [{}]).sources;
    const labels = missing.labels.map((one, k) => (k === 1500 ? { ...one, label: 'No \u4e00' } : one));
    for (const decide of [checkMarks, marksToFit])
      expect(codesOf(() => decide({ ...missing, labels }))).toEqual(['layout.characters-missing']);
  });

  test('are refused before one of them is shaped where they are too many', () => {
    const pieces = 1000;
    const marks = Array.from({ length: MOST_LETTERS / (8 * pieces) }, () => ({}));
    expect(codesOf(() => marksToFit(edition(pieces, marks).sources))).toEqual([]);
    const longer = [...marks.slice(1), { kind: 'inscription', text: 'Nine Lights' }, { id: 'last' }];
    const { sources, asked } = edition(pieces, longer);
    for (const decide of [checkMarks, marksToFit]) {
      expect(problemsOf(() => decide(sources))).toMatchObject([
        {
          code: 'layout.too-many-letters',
          where: 'designs/d.yaml: mark m0',
          values: { letters: MOST_LETTERS + 11, pieces, most: MOST_LETTERS },
        },
      ]);
    }
    expect(asked()).toBe(0);
    // A third as many on a helix are as much.
    const third = Math.floor(marks.length / 3);
    const helix = (count: number) =>
      edition(
        pieces,
        Array.from({ length: count }, () => ({ baseline: 'helix', pitch: 3 })),
      ).sources;
    expect(codesOf(() => checkMarks(helix(third)))).toEqual([]);
    expect(codesOf(() => checkMarks(helix(third + 1)))).toEqual(['layout.too-many-letters']);
  });
});

const codesOf = (decide: () => unknown): string[] => problemsOf(decide).map(({ code }) => code);

function problemsOf(decide: () => unknown) {
  try {
    decide();
    return [];
  } catch (error) {
    if (error instanceof Refusal) return error.problems;
    throw error;
  }
}
