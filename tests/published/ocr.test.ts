import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { Resvg } from '@resvg/resvg-js';
import { createWorker, PSM, type Worker } from 'tesseract.js';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { flatten } from '../../src/lettering/flatten.js';
import type { Font } from '../../src/lettering/font.js';
import { outlineFont } from '../../src/lettering/outline.js';
import { setLine } from '../../src/lettering/shape.js';
import { strokeFont } from '../../src/lettering/stroke.js';
import { fontFile } from '../lettering/made-fonts.js';

/*
 * Labels as they are cut, read by a program that knows nothing of burin: Tesseract (tesseract.js 7 with the English
 * data of @tesseract.js-data/eng 1.0). It is told only which characters labels are made of, as anyone who reads them
 * knows. The line is as wide as a 0.12 mm drag point leaves it, at heights the trade cuts numbers at (1 to 2 mm:
 * common practice, no source).
 */
const LINE_MM = 0.12;
const SIZES = [1.2, 1.5, 2];
const DOTS_PER_MM = 12;
const PAD_MM = 1;
const KNOWN = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789/.- ';

const months = 'JANUARY FEBRUARY MARCH APRIL MAY JUNE JULY AUGUST SEPTEMBER OCTOBER NOVEMBER DECEMBER'.split(
  ' ',
);
const roman = 'I II III IV V VI VII VIII IX'.split(' ');
/** A hundred labels of an edition and what goes with them, each in two styles. */
const LABELS = [
  ...Array.from({ length: 45 }, (_, k) => `${String(2 * k + 1).padStart(2, '0')}/90`),
  ...months.map((m, k) => `${m} ${2019 + (k % 8)}`),
  ...['NINE LIGHTS', 'Lantern Coast', 'Nine Lights', 'LANTERN COAST', 'Sterling silver', 'Hors commerce'],
  ...[
    'Engraved 1 of 9',
    'Bench copy',
    'No. 12 of 90',
    'Cap',
    'Barrel',
    '2026/27',
    'Kept back',
    'To Ada',
    'With thanks',
  ],
  ...Array.from({ length: 28 }, (_, k) => `Piece ${37 * k + 104} of 1200`),
];

/** The proofs of the same edition. */
const PROOFS = roman.map((r) => `A.P. ${r}/IX`);

const fonts = ['burin-plain', 'burin-roman'].map((id) => {
  const read = strokeFont(id, readFileSync(new URL(`../../fonts/${id}.svg`, import.meta.url), 'utf8'));
  if (!read.ok) throw new Error(read.problem.what);
  return read.font;
});

/** Its letters, figures and strokes: readers of print take stops and spaces after single capitals as they like. */
const bare = (text: string): string => text.replace(/[\s.]/g, '');

/** A label as its cut looks: the lines the cutter follows, as wide as it leaves them. */
function picture(font: Font, text: string, size: number): Buffer {
  const { glyphs, width } = setLine(font, text, 'proportional');
  const paths = glyphs.flatMap(({ glyph, x }) =>
    flatten(glyph.path, size, 0.001).map(({ points, closed }) => {
      const at = Array.from(points, (v, i) =>
        (i % 2 === 0 ? PAD_MM + x * size + v : PAD_MM + size * 1.4 - v).toFixed(4),
      );
      return `M${at.join(' ')}${closed ? 'Z' : ''}`;
    }),
  );
  const [w, h] = [width * size + 2 * PAD_MM, size * 1.8 + 2 * PAD_MM];
  const look =
    font.kind === 'stroke'
      ? `fill="none" stroke="#000" stroke-width="${LINE_MM}" stroke-linecap="round" stroke-linejoin="round"`
      : 'fill="#000"';
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${w} ${h}"><g ${look}><path d="${paths.join('')}"/></g></svg>`;
  const fitTo = { mode: 'width' as const, value: Math.round(w * DOTS_PER_MM) };
  return Buffer.from(new Resvg(svg, { background: '#fff', fitTo }).render().asPng());
}

/** The labels that are read as something else, in words. */
async function misread(
  worker: Worker,
  font: Font,
  labels: readonly string[],
  sizes = SIZES,
): Promise<string[]> {
  const wrong: string[] = [];
  for (const [k, label] of labels.entries()) {
    const size = sizes[k % sizes.length]!;
    const { data } = await worker.recognize(picture(font, label, size));
    if (bare(data.text) !== bare(label))
      wrong.push(`${font.id} at ${size} mm: ${label} as ${data.text.trim()}`);
  }
  return wrong;
}

describe('labels in the stroke family, read by Tesseract', () => {
  let worker: Worker;

  beforeAll(async () => {
    const data = createRequire(import.meta.url).resolve('@tesseract.js-data/eng/package.json');
    const langPath = join(dirname(data), '4.0.0_best_int');
    worker = await createWorker('eng', 1, { langPath, cacheMethod: 'none', gzip: true });
    await worker.setParameters({
      tessedit_pageseg_mode: PSM.SINGLE_LINE,
      tessedit_char_whitelist: KNOWN,
      user_defined_dpi: '300',
    });
  }, 60_000);

  afterAll(() => worker.terminate());

  it('are read right, 99 of a hundred at least', { timeout: 180_000 }, async () => {
    const wrong: string[] = [];
    for (const font of fonts) wrong.push(...(await misread(worker, font, LABELS)));
    expect(LABELS.length * fonts.length).toBe(200);
    expect(wrong.length, wrong.join('\n')).toBeLessThanOrEqual(2);
  });

  // I, 1 and l pass for one another where no other letter tells them apart, and Tesseract does not always count the
  // strokes of III, in print either: a book face is read beside, and neither style may lose many more than it.
  it('in Roman numerals are read nearly as well as those of a book face', { timeout: 120_000 }, async () => {
    const book = outlineFont('garamond', fontFile('garamond'));
    if (!book.ok) throw new Error(book.problem.what);
    const lost = async (font: Font): Promise<string[]> => {
      const wrong = await misread(worker, font, [...PROOFS, ...PROOFS, ...PROOFS], thrice);
      const upright = (text: string) => bare(text).replace(/[1l]/g, 'I');
      return wrong.filter((w) => {
        const [, label, read] = /mm: (.*) as (.*)$/s.exec(w)!;
        return upright(label!) !== upright(read!);
      });
    };
    const print = await lost(book.font);
    for (const font of fonts) {
      const wrong = await lost(font);
      expect(wrong.length, wrong.join('\n')).toBeLessThanOrEqual(print.length + 3);
    }
  });
});

/** Every proof at every size: nine at one, nine at the next. */
const thrice = SIZES.flatMap((size) => Array.from({ length: 9 }, () => size));
