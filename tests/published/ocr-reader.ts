import { readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { Resvg } from '@resvg/resvg-js';
import { createWorker, PSM, type Worker } from 'tesseract.js';
import { flatten } from '../../src/geometry/flatten.js';
import type { Font } from '../../src/lettering/font.js';
import { shapeLine } from '../../src/lettering/shaped-line.js';
import { strokeFont } from '../../src/lettering/stroke-font.js';
import { lineOf } from '../words-of.js';

/*
 * Labels as they are cut, read by a program that knows nothing of burin: Tesseract (tesseract.js 7 with the English
 * data of @tesseract.js-data/eng 1.0). It is told only which characters labels are made of, as anyone who reads them
 * knows: capitals, small letters, figures, slash, stop and hyphen. The line is as wide as a 0.12 mm drag point leaves
 * it, at heights the trade cuts numbers at (1 to 2 mm: common practice, no source), seen at 12 dots per mm, the 300
 * dots per inch that Tesseract's makers ask for (its guide to better pictures; from memory).
 */
const LINE_MM = 0.12;
export const SIZES = [1.2, 1.5, 2];
const DOTS_PER_MM = 12;
const PAD_MM = 1;
const KNOWN = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789/.- ';

const months = 'JANUARY FEBRUARY MARCH APRIL MAY JUNE JULY AUGUST SEPTEMBER OCTOBER NOVEMBER DECEMBER'.split(
  ' ',
);
const roman = 'I II III IV V VI VII VIII IX'.split(' ');
/** A hundred labels of an edition and what goes with them, each in two styles. */
export const LABELS = [
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
export const PROOFS = roman.map((r) => `A.P. ${r}/IX`);

const shelf = new URL('../../fonts/', import.meta.url);
const drawings = readdirSync(shelf).filter((file) => file.endsWith('.svg'));
export const fonts = drawings.map((file) => {
  const id = file.slice(0, -4);
  const read = strokeFont(id, readFileSync(new URL(file, shelf), 'utf8'));
  if (!read.ok) throw new Error(lineOf(read.problem));
  return read.font;
});

/** A label as its cut looks: the lines the cutter follows, as wide as it leaves them. */
function picture(font: Font, text: string, size: number): Buffer {
  const { glyphs, width } = shapeLine(font, text, 'proportional');
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

export interface Misreading {
  readonly label: string;
  readonly read: string;
  readonly words: string;
}

/** The labels that are read as anything but what they say. */
export async function misread(
  worker: Worker,
  font: Font,
  labels: readonly string[],
  sizes = SIZES,
): Promise<Misreading[]> {
  const wrong: Misreading[] = [];
  for (const [k, label] of labels.entries()) {
    const size = sizes[k % sizes.length]!;
    const { data } = await worker.recognize(picture(font, label, size));
    const read = data.text.trim();
    if (read !== label) wrong.push({ label, read, words: `${font.id} at ${size} mm: ${label} as ${read}` });
  }
  return wrong;
}

export const inWords = (wrong: readonly Misreading[]): string => wrong.map((w) => w.words).join('\n');

/** Tesseract with the English data of its package, told only the characters that labels are made of. */
export async function openReader(): Promise<Worker> {
  const data = createRequire(import.meta.url).resolve('@tesseract.js-data/eng/package.json');
  const langPath = join(dirname(data), '4.0.0_best_int');
  const worker = await createWorker('eng', 1, { langPath, cacheMethod: 'none', gzip: true });
  await worker.setParameters({
    tessedit_pageseg_mode: PSM.SINGLE_LINE,
    tessedit_char_whitelist: KNOWN,
    user_defined_dpi: '300',
  });
  return worker;
}
