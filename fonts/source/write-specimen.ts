import type { Glyph } from './glyph.js';
import { CAP, LINE_WIDTH } from './metrics.js';
import type { Drawing } from './style.js';
import { escapeXml, number, pathData } from './write-font.js';

const PAGE_WIDTH = 324;
const MARGIN = 12;
const COLUMNS = 10;
const CELL = { width: 30, height: 44, lettering: 20, baseline: 30, caption: 41 };
const CAPTION_HEIGHT = 1.8;

/** True sizes in millimetres, largest first. */
const SAMPLES: readonly (readonly [height: number, text: string])[] = [
  [20, 'Nº 12/90 № 7'],
  [20, 'A.P. IV/IX'],
  [20, 'Nine Lights'],
  [20, '0O 1Il 5S 8B'],
  [10, 'Lantern Coast – silver & resin'],
  [10, 'I II III IV V VI VII VIII IX X XL XC'],
  [10, 'MCMXCIX MMXXVI CDXLIV DCLXVI'],
  [10, '0123456789 ½ ¾ ⅔ ¹¹⁄₁₂ ⁷⁄₉₀ 1ˢᵗ 2ⁿᵈ 3ʳᵈ 4ᵗʰ'],
  [5, 'AVATAR LATVIA TYPE WAVE To Ty Va. L’Aube “Lantern”'],
  [5, 'The quick brown fox jumps over a lazy dog; pack my box, five dozen jugs.'],
  [5, 'Łódź Kęty Čáslav Liptov Ľubica Győr Çorlu Ţiganca Târgu Þingvellir Århus Vaňov ťava ďas'],
  [
    2,
    'Nº 12/90 № 7 A.P. IV/IX Nine Lights 0O 1Il — Lantern Coast, Nine Lights, 90 pieces and 9 artist’s proofs',
  ],
  [
    1.2,
    'Nº 12/90 № 7 A.P. IV/IX Nine Lights 0O 1Il — Lantern Coast, Nine Lights, 90 pieces and 9 artist’s proofs',
  ],
];

/** Each glyph is drawn once and used by its name. */
const defined = (glyphs: readonly Glyph[]): string[] =>
  glyphs.map((glyph) => `<path id="${glyph.name}" d="${pathData(glyph)}"/>`);

function useGlyph(glyph: Glyph, x: number, baseline: number, height: number): string {
  if (glyph.strokes.length === 0) return '';
  const scale = Number((height / CAP).toFixed(6));
  const at = `${Number(x.toFixed(3))} ${number(baseline)}`;
  return `<use href="#${glyph.name}" transform="translate(${at}) scale(${scale} ${-scale})"/>`;
}

function line(drawing: Drawing, text: string, x: number, baseline: number, height: number): string[] {
  const glyphs = new Map(drawing.glyphs.map((glyph) => [glyph.char, glyph]));
  const kerns = new Map(drawing.kerns.map((k) => [k.left + k.right, k.tighter]));
  let at = x;
  let before = '';
  const paths: string[] = [];
  for (const char of text) {
    const glyph = glyphs.get(char) ?? drawing.missing;
    at -= ((kerns.get(before + char) ?? 0) * height) / CAP;
    paths.push(useGlyph(glyph, at, baseline, height));
    at += (glyph.advance * height) / CAP;
    before = char;
  }
  return paths.filter((path) => path !== '');
}

const widthOf = (drawing: Drawing, text: string, height: number): number => {
  const glyphs = new Map(drawing.glyphs.map((glyph) => [glyph.char, glyph]));
  return [...text].reduce((sum, c) => sum + (glyphs.get(c) ?? drawing.missing).advance, 0) * (height / CAP);
};

/** A character's number in Unicode, or the name of a variant that has none. */
const caption = ({ char, name }: Glyph): string =>
  char === '' ? name : char.codePointAt(0)!.toString(16).toUpperCase().padStart(4, '0');

/** A glyph large, its number below it. */
function cell(drawing: Drawing, glyph: Glyph, i: number): string[] {
  const middle = MARGIN + ((i % COLUMNS) + 0.5) * CELL.width;
  const top = MARGIN + Math.floor(i / COLUMNS) * CELL.height;
  const width = (glyph.advance * CELL.lettering) / CAP;
  const under = caption(glyph);
  const left = middle - widthOf(drawing, under, CAPTION_HEIGHT) / 2;
  return [
    useGlyph(glyph, middle - width / 2, top + CELL.baseline, CELL.lettering),
    ...line(drawing, under, left, top + CELL.caption, CAPTION_HEIGHT),
  ];
}

/** A sheet of every glyph and of sample lines at true size, stroked at the design width, one tenth of the height. */
export function writeSpecimen(drawing: Drawing): string {
  const shown = drawing.glyphs.filter((glyph) => glyph.strokes.length > 0);
  const body = shown.flatMap((glyph, i) => cell(drawing, glyph, i));
  let y = MARGIN + Math.ceil(shown.length / COLUMNS) * CELL.height;
  let before = 0;
  for (const [height, text] of SAMPLES) {
    // Room for the tails of the line above, then for this one's capitals.
    y += before * 0.4 + height * 1.2 + 3;
    before = height;
    body.push(`<g aria-label="${escapeXml(`${text} at ${height} mm`)}">`);
    body.push(...line(drawing, text, MARGIN, y, height), '</g>');
  }
  const tall = Math.ceil(y + MARGIN);
  return `${[
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="http://www.w3.org/2000/svg" width="${PAGE_WIDTH}mm" height="${tall}mm" viewBox="0 0 ${PAGE_WIDTH} ${tall}">`,
    `<title>Specimen of ${escapeXml(drawing.family)}</title>`,
    `<rect width="${PAGE_WIDTH}" height="${tall}" fill="#fff"/>`,
    `<g fill="none" stroke="#1d2430" stroke-width="${LINE_WIDTH}" stroke-linecap="round" stroke-linejoin="round">`,
    '<defs>',
    ...defined([...shown, drawing.missing]),
    '</defs>',
    ...body,
    '</g>',
    '</svg>',
  ].join('\n')}\n`;
}
