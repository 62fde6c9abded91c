import { readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { stringify } from 'yaml';
import { loadWorkshop } from '../../src/documents/load.js';
import { readDocument } from '../../src/documents/read-document.js';
import { folders, type Kind } from '../../src/documents/schemas.js';
import type { Problem } from '../../src/problem.js';
import { describeProblem } from '../words-of.js';
import { builtInFonts, copyOfGood, goodWorkshop } from './workshop-copy.js';

/** The slow run, `mutation.slow.test.ts`, tries ten times as many. */
const MANY = Number(process.env.MUTATIONS ?? 1);

interface Good {
  readonly kind: Kind;
  readonly file: string;
  readonly bytes: Buffer;
}

const read = (kind: Kind, file: string): Good => ({
  kind,
  file,
  bytes: readFileSync(path.join(goodWorkshop, file)),
});
const goods: Good[] = [
  read('workshop', 'workshop.yaml'),
  ...(Object.keys(folders) as (keyof typeof folders)[]).flatMap((kind) =>
    readdirSync(path.join(goodWorkshop, folders[kind])).map((name) => read(kind, `${folders[kind]}/${name}`)),
  ),
];
const good = fc.constantFrom(...goods);

function wellFormed(problems: readonly Problem[], file?: string): void {
  for (const { where, message, hint } of problems.map(describeProblem)) {
    if (file) expect(where.startsWith(file)).toBe(true);
    for (const text of [where, message, hint]) {
      expect(text).not.toBe('');
      expect(text).not.toMatch(/[\p{Cc}\p{Cs}\u2028\u2029]/u);
      expect(text.length).toBeLessThan(400);
    }
    expect(`${message} ${hint}`).not.toMatch(/undefined|\[object|NaN|null/);
  }
}

function answered({ kind, file }: Good, bytes: Uint8Array): void {
  const { document, problems } = readDocument(kind, file, bytes);
  if (!document) expect(problems.length).toBeGreaterThan(0);
  wellFormed(problems, file);
}

describe('whatever becomes of a document, it is read or answered', () => {
  test('bytes replaced, taken out or put in', () => {
    const change = fc.record({
      at: fc.nat(2000),
      cut: fc.nat(12),
      put: fc.oneof(
        fc.uint8Array({ maxLength: 8 }),
        fc
          .constantFrom(
            '\t',
            '\n',
            ' ',
            ': ',
            '- ',
            '&a ',
            '*a',
            '<<: ',
            '!!int ',
            '"',
            "'",
            '[',
            '{',
            ']',
            '}',
            '|',
            '>',
            '#',
            '?',
            '%',
            '---\n',
            '.nan',
            '1e999',
            '\ufeff',
            '\u2028',
            '\\',
          )
          .map((text) => new Uint8Array(Buffer.from(text))),
      ),
    });
    fc.assert(
      fc.property(good, fc.array(change, { minLength: 1, maxLength: 4 }), (document, changes) => {
        let bytes: Buffer = document.bytes;
        for (const { at, cut, put } of changes) {
          const here = at % (bytes.length + 1);
          bytes = Buffer.concat([bytes.subarray(0, here), put, bytes.subarray(here + cut)]);
        }
        answered(document, bytes);
      }),
      { numRuns: MANY * 300 },
    );
  });

  test('bytes of any sort', () => {
    fc.assert(
      fc.property(good, fc.uint8Array({ maxLength: 200 }), (document, bytes) => answered(document, bytes)),
      { numRuns: MANY * 60 },
    );
  });

  test('a value of any sort in any place', () => {
    fc.assert(
      fc.property(good, fc.nat(), fc.anything({ maxDepth: 2 }).filter(isPlain), (document, where, value) => {
        answered(
          document,
          Buffer.from(stringify(replaced(document, where, value), { aliasDuplicateObjects: false })),
        );
      }),
      { numRuns: MANY * 150 },
    );
  });

  test('a figure of any size anywhere, through every check between documents', async () => {
    const dir = copyOfGood();
    const figure = fc.oneof(
      fc.constantFrom(0, -1, 1, 0.001, 360, 359.999, 1000, -1000, 1e-300, 99_999, 3999, 4000),
      fc.double({ min: -1000, max: 1000, noNaN: true }),
      fc.integer({ min: -2, max: 100 }),
    );
    try {
      await fc.assert(
        fc.asyncProperty(good, fc.nat(), figure, async (document, where, value) => {
          const file = path.join(dir, document.file);
          writeFileSync(file, stringify(replaced(document, where, value, isFigure)));
          const loaded = await loadWorkshop(dir, { builtInFonts });
          writeFileSync(file, document.bytes);
          if (loaded.ok) return;
          expect(loaded.problems.length).toBeGreaterThan(0);
          wellFormed(loaded.problems);
        }),
        { numRuns: MANY * 25 },
      );
    } finally {
      rmSync(dir, { recursive: true, force: true });
    }
  });
});

const isFigure = (value: unknown): boolean => typeof value === 'number';

/** Values YAML can carry; the others would be a fault of the test's own writer. */
function isPlain(value: unknown): boolean {
  if (value === null || ['string', 'number', 'boolean'].includes(typeof value)) return true;
  if (Array.isArray(value)) return value.every(isPlain);
  return (
    typeof value === 'object' &&
    Object.getPrototypeOf(value) === Object.prototype &&
    Object.values(value).every(isPlain)
  );
}

/** A document's value with one place of it, chosen by a count, holding something else. */
function replaced(
  { kind, file, bytes }: Good,
  where: number,
  value: unknown,
  only = (_: unknown) => true,
): unknown {
  const whole: unknown = structuredClone(readDocument(kind, file, bytes).document?.value);
  const places: [holder: Record<string, unknown>, key: string][] = [];
  const visit = (holder: unknown): void => {
    if (typeof holder !== 'object' || holder === null) return;
    for (const [key, below] of Object.entries(holder)) {
      if (only(below)) places.push([holder as Record<string, unknown>, key]);
      visit(below);
    }
  };
  visit(whole);
  const place = places[where % Math.max(1, places.length)];
  if (place) place[0][place[1]] = value;
  return whole;
}
