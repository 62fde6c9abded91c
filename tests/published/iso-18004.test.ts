import { describe, expect, test } from 'vitest';
import { LONGEST_PART } from '../../src/register/certificate/code.js';
import { modulesOf, outlinesOf, QUIET_MODULES } from '../../src/sheets/certificate-symbol.js';
import { readSymbols } from '../sheets/pdf-reader.js';

/**
 * ISO/IEC 18004, QR code bar code symbology specification. Figures from memory: versions have 17 + 4 v modules a side
 * (5.1); alphanumeric characters at level M, table 7; quiet zone of 4 modules (5.3.8 or 9.1, by issue).
 */

const side = (version: number): number => 17 + 4 * version;

/** Alphanumeric characters a version holds at level M, table 7. */
const HELD: readonly (readonly [version: number, characters: number])[] = [
  [1, 20],
  [10, 311],
  [20, 970],
  [25, 1451],
  [30, 1994],
  [40, 3391],
];

/** Drawn from the outlines, as the page is: a module is dark when its middle lies inside. */
function pictureOf(text: string, dots: number) {
  const modules = modulesOf(text);
  const outlines = outlinesOf(modules);
  const n = modules.length + 2 * QUIET_MODULES;
  const data = new Uint8ClampedArray(4 * (n * dots) ** 2).fill(255);
  for (let y = 0; y < n * dots; y++)
    for (let x = 0; x < n * dots; x++) {
      const px = (x + 0.5) / dots - QUIET_MODULES;
      const py = (y + 0.5) / dots - QUIET_MODULES;
      if (inside(outlines, px, py)) data.fill(0, 4 * (y * n * dots + x), 4 * (y * n * dots + x) + 3);
    }
  return { width: n * dots, height: n * dots, data };
}

/** Odd and even crossings of the line to the left. */
function inside(outlines: ReturnType<typeof outlinesOf>, x: number, y: number): boolean {
  let odd = false;
  for (const outline of outlines)
    outline.forEach(([x0, y0], i) => {
      const [x1, y1] = outline[(i + 1) % outline.length]!;
      if (x0 === x1 && x0 < x && Math.min(y0, y1) < y && y < Math.max(y0, y1)) odd = !odd;
    });
  return odd;
}

describe('a symbol', () => {
  test.each(HELD)('of version %i holds %i characters at level M', (version, characters) => {
    expect(modulesOf('A'.repeat(characters))).toHaveLength(side(version));
    if (version < 40) expect(modulesOf('A'.repeat(characters + 1))).toHaveLength(side(version + 1));
  });

  test('of a certificate is never larger than version 30', () => {
    expect(LONGEST_PART).toBe(HELD.find(([version]) => version === 30)![1]);
  });

  test('is read by another program as what was written, at level M', async () => {
    const text = `BURIN1:1/1:${'%69 VD92EX0$*+-./:'.repeat(8)}.`;
    const [found, more] = await readSymbols(pictureOf(text, 3));
    expect(more).toBeUndefined();
    expect(found).toMatchObject({ text, isValid: true });
    expect(found!.extra).toContain('M');
  });

  test('has outlines round exactly its dark modules', () => {
    const modules = modulesOf('NINE LIGHTS 12/90');
    const outlines = outlinesOf(modules);
    const seen = modules.map((row, y) => row.map((_, x) => inside(outlines, x + 0.5, y + 0.5)));
    expect(seen).toEqual(modules);
  });
});
