import PDFDocument from 'pdfkit';
import { type CutNumber, readableNumber } from './certificate-number.js';
import { MODULE_MM, modulesOf, outlinesOf, QUIET_MODULES } from './certificate-symbol.js';
import { type Setter, setterFor, type Typefaces, units } from './certificate-type.js';
import { formatNumber } from './readable-numbers.js';
import { INK, QUIET, SECOND, SMALL_MM } from './theme.js';

/** All that a certificate shows. */
export interface CertificateScene {
  readonly maker: string;
  readonly edition: string;
  readonly series: string;
  readonly label: string;
  readonly parts: readonly { readonly name: string; readonly material: string }[];
  /** Days by what happened on them, `2031-03-01`. */
  readonly dates: readonly { readonly what: string; readonly day: string }[];
  readonly owner?: string;
  /** As it was cut; left out where the register does not know from which lines. */
  readonly number?: CutNumber;
  /** Which certificate of this number it is, from 1. */
  readonly serial?: number;
  /** Days on which the terms of the edition were amended. */
  readonly amendments?: readonly string[];
  /** The whole proof as the text of one or more symbols. */
  readonly codes: readonly string[];
  readonly proves: string;
  readonly doesNotProve: string;
  readonly checkpoint: { readonly origin: string; readonly size: number; readonly root: Uint8Array };
  /** The certificate itself, carried inside the document, and its file name. */
  readonly file: { readonly name: string; readonly bytes: Uint8Array };
  /** The one moment the document bears: that of the last event it shows. */
  readonly at: Date;
}

/** ISO 216: A4, lying. */
export const PAGE_MM = { width: 297, height: 210 } as const;

const FRAME = 11;
/** The part for people ends here; the proof is right of it. */
const STUB = 229;
const MIDDLE = (FRAME + STUB) / 2;
const STUB_MIDDLE = (STUB + PAGE_MM.width - FRAME) / 2;
const STUB_ROOM = PAGE_MM.width - FRAME - STUB - 10;
/** More symbols than these go to a page of their own. */
const MOST_ON_FACE = 2;
const HAIR = 0.18;
/** The number is at most this high, mm. */
const TALLEST = 30;

/**
 * The certificate as PDF. Same scene, same bytes: nothing in it is compressed, so that no other release of a library
 * changes it and whoever searches its bytes sees all it says.
 */
export async function certificatePdf(scene: CertificateScene, typefaces: Typefaces): Promise<Uint8Array> {
  const doc = new PDFDocument({
    size: [units(PAGE_MM.width), units(PAGE_MM.height)],
    margin: 0,
    compress: false,
    pdfVersion: '1.7',
    subset: 'PDF/A-3b',
    lang: 'en',
    displayTitle: true,
    // Bytes in place of a name: the writer then needs none of the fonts it would look for.
    font: typefaces.text.fonts[0]!.bytes as unknown as string,
    info: {
      // Made of ids alone: text from people would have to be escaped twice in here.
      Title: scene.file.name.replace(/\.json$/, ''),
      Producer: 'burin',
      Creator: 'burin',
      CreationDate: scene.at,
      ModDate: scene.at,
    },
  });
  const chunks: Uint8Array[] = [];
  const ended = new Promise<void>((resolve, reject) => {
    doc.on('data', (chunk: Uint8Array) => chunks.push(chunk));
    doc.on('end', resolve);
    doc.on('error', reject);
  });
  const set = setterFor(doc, typefaces);
  drawFrame(doc);
  drawFace(doc, set, scene);
  drawStub(doc, set, scene);
  if (scene.codes.length > MOST_ON_FACE) drawCodePages(doc, set, scene);
  const attached = {
    name: scene.file.name,
    type: 'application/json',
    description: 'The certificate for burin verify',
    // ISO 19005-3 asks for it; the types do not know it.
    relationship: 'Source',
    creationDate: scene.at,
    modifiedDate: scene.at,
  };
  doc.file(Buffer.from(scene.file.bytes), attached);
  doc.end();
  await ended;
  return Buffer.concat(chunks);
}

function rule(doc: PDFKit.PDFDocument, x0: number, y0: number, x1: number, y1: number, ink = INK): void {
  doc.moveTo(units(x0), units(y0)).lineTo(units(x1), units(y1)).lineWidth(units(HAIR)).stroke(ink);
}

function drawFrame(doc: PDFKit.PDFDocument): void {
  const { width, height } = PAGE_MM;
  for (const [inset, pen] of [
    [FRAME, 0.35],
    [FRAME + 1.4, 0.12],
  ] as const)
    doc
      .rect(units(inset), units(inset), units(width - 2 * inset), units(height - 2 * inset))
      .lineWidth(units(pen))
      .stroke(INK);
  rule(doc, STUB, FRAME + 8, STUB, height - FRAME - 8, QUIET);
}

/** A short rule with a lozenge in it, the mark of a graver's point. */
function drawLozenge(doc: PDFKit.PDFDocument, y: number): void {
  rule(doc, MIDDLE - 18, y, MIDDLE - 2.6, y, SECOND);
  rule(doc, MIDDLE + 2.6, y, MIDDLE + 18, y, SECOND);
  const corners: [number, number][] = [
    [units(MIDDLE - 1.4), units(y)],
    [units(MIDDLE), units(y - 0.8)],
    [units(MIDDLE + 1.4), units(y)],
    [units(MIDDLE), units(y + 0.8)],
  ];
  doc.polygon(...corners).fill(SECOND);
}

function drawFace(doc: PDFKit.PDFDocument, set: Setter, scene: CertificateScene): void {
  const maxWidth = STUB - FRAME - 24;
  const middle = { anchor: 'middle' } as const;
  set.fittedLine(scene.maker, MIDDLE, 30, maxWidth, {
    ...middle,
    face: 'display',
    size: 5,
    fill: INK,
    spacing: 0.06,
  });
  set.fittedLine(scene.edition, MIDDLE, 54, maxWidth, { ...middle, face: 'display', size: 18, fill: INK });
  set.fittedLine(scene.series, MIDDLE, 64, maxWidth, { ...middle, face: 'italic', size: 5.4, fill: SECOND });
  drawLozenge(doc, 71);
  const caption = drawNumberOf(doc, set, scene, maxWidth);
  set.fittedLine(caption, MIDDLE, 122, maxWidth, { ...middle, face: 'italic', size: 3.4, fill: QUIET });
  drawFacts(set, scene, 138);
  drawSignature(doc, set, scene);
}

/** The number, drawn as it was cut or else set in type; gives what is said under it. */
function drawNumberOf(
  doc: PDFKit.PDFDocument,
  set: Setter,
  { number, label }: CertificateScene,
  maxWidth: number,
): string {
  if (number) {
    const scale = formatNumber(drawNumber(doc, number, 97, maxWidth), 1);
    return `Number ${label}, drawn from the lines that were cut, ${scale} times as large`;
  }
  const type = { anchor: 'middle', face: 'text', size: 16, fill: INK } as const;
  set.fittedLine(label, MIDDLE, 102, maxWidth, type);
  return `Number ${label}, set in type: from which lines it was cut is not known`;
}

/** The number itself, its middle at y; gives how many times it is enlarged. */
function drawNumber(doc: PDFKit.PDFDocument, number: CutNumber, y: number, maxWidth: number): number {
  const { lines, filled, width, height } = readableNumber(number);
  const ink = filled ? 0 : number.cutWidth;
  const scale = Math.min(TALLEST / (height + ink), maxWidth / (width + ink));
  doc.save();
  doc.translate(units(MIDDLE), units(y)).scale(units(scale), -units(scale));
  for (const { points, closed } of lines) {
    for (let i = 0; i < points.length; i += 2) {
      if (i === 0) doc.moveTo(points[0]!, points[1]!);
      else doc.lineTo(points[i]!, points[i + 1]!);
    }
    if (closed) doc.closePath();
  }
  if (filled) doc.fill(INK);
  else doc.lineWidth(ink).lineCap('round').lineJoin('round').stroke(INK);
  doc.restore();
  return scale;
}

/** Left edges of the two columns of the face, mm. */
const LEFT = FRAME + 20;
const RIGHT = 138;
const COLUMN = { left: 96, right: STUB - 20 - RIGHT } as const;

/** Materials on the left, days on the right. */
function drawFacts(set: Setter, scene: CertificateScene, y: number): void {
  const dates = scene.dates.map(({ what, day }) => ({ name: what, value: formatDay(day) }));
  const owner = scene.owner === undefined ? [] : [{ name: 'to', value: scene.owner }];
  const amended = (scene.amendments ?? []).map(formatDay).join(', ');
  const terms = amended === '' ? [] : [{ name: 'terms amended', value: amended }];
  const serial =
    scene.serial === undefined ? [] : [{ name: 'certificate', value: `no. ${scene.serial} of this number` }];
  const materials = scene.parts.map(({ name, material }) => ({ name, value: material }));
  drawPairs(set, materials, LEFT, y, COLUMN.left);
  drawPairs(set, [...dates, ...owner, ...terms, ...serial], RIGHT, y, COLUMN.right);
}

/** Lines of a name and its value; closer and smaller when there are many. */
function drawPairs(
  set: Setter,
  pairs: readonly { readonly name: string; readonly value: string }[],
  x: number,
  y: number,
  maxWidth: number,
): void {
  const step = Math.min(6.4, 32 / pairs.length);
  const scale = Math.min(1, step / 5);
  const name = { face: 'italic', size: 3.6 * scale, fill: QUIET } as const;
  const value = { face: 'text', size: 4.1 * scale, fill: INK } as const;
  const widest = Math.min(maxWidth / 3, Math.max(...pairs.map((pair) => set.width(pair.name, name))));
  pairs.forEach((pair, i) => {
    set.fittedLine(pair.name, x, y + i * step, widest, name);
    set.fittedLine(pair.value, x + widest + 4, y + i * step, maxWidth - widest - 4, value);
  });
}

function drawSignature(doc: PDFKit.PDFDocument, set: Setter, scene: CertificateScene): void {
  const y = PAGE_MM.height - FRAME - 16;
  const small = { face: 'italic', size: 3, fill: QUIET } as const;
  rule(doc, LEFT, y, LEFT + COLUMN.left - 16, y);
  set.fittedLine(`for ${scene.maker}`, LEFT, y + 4.6, COLUMN.left - 16, small);
  rule(doc, RIGHT, y, RIGHT + COLUMN.right, y);
  set.line('place and day', RIGHT, y + 4.6, small);
}

/** The part that a machine reads, and what it proves. */
function drawStub(doc: PDFKit.PDFDocument, set: Setter, scene: CertificateScene): void {
  const small = { face: 'text', size: SMALL_MM, fill: INK } as const;
  const quiet = { ...small, face: 'italic', fill: QUIET } as const;
  const middle = { anchor: 'middle' } as const;
  const left = STUB + 5;
  let y = FRAME + 6;
  if (scene.codes.length > MOST_ON_FACE) {
    y = set.block(
      `The proof is in the ${scene.codes.length} codes on the second leaf.`,
      left,
      y + 4,
      STUB_ROOM,
      small,
    );
  } else {
    for (const code of scene.codes) y = drawSymbol(doc, code, STUB_MIDDLE, y) + 3;
    y += 2;
    const caption = scene.codes.length === 1 ? 'holds the proof; check with' : 'hold the proof; check with';
    set.line(caption, STUB_MIDDLE, y, { ...small, ...middle });
    set.line('burin verify', STUB_MIDDLE, y + 3.6, { ...small, ...middle });
    y += 3.6;
  }
  const { origin, size, root } = scene.checkpoint;
  y += 8;
  set.line('Checkpoint', left, y, { ...quiet, size: 3.2 });
  set.fittedLine(origin, left, y + 4.6, STUB_ROOM, small);
  set.line(`${size} events, root`, left, y + 8.4, small);
  const hex = Buffer.from(root).toString('hex');
  for (let i = 0; i < 4; i++) {
    const groups = hex.slice(i * 16, i * 16 + 16).replace(/(.{4})(?=.)/g, '$1 ');
    set.line(groups, left, y + 12.2 + i * 3.7, { ...small, spacing: 0.04 });
  }
  const foot = PAGE_MM.height - FRAME - 32;
  const next = set.block(`Proved: ${scene.proves}`, left, foot, STUB_ROOM, quiet, 1.25);
  set.block(`Not proved: ${scene.doesNotProve}`, left, next + 1, STUB_ROOM, quiet, 1.25);
}

/** A symbol with the top of its quiet zone at y and its middle at x; gives the lower edge of the quiet zone. */
function drawSymbol(doc: PDFKit.PDFDocument, code: string, x: number, y: number): number {
  const modules = modulesOf(code);
  const side = modules.length * MODULE_MM;
  const quiet = QUIET_MODULES * MODULE_MM;
  doc.save();
  doc.translate(units(x - side / 2), units(y + quiet)).scale(units(MODULE_MM));
  for (const outline of outlinesOf(modules))
    doc.polygon(...outline.map(([px, py]): [number, number] => [px, py]));
  doc.fill(INK);
  doc.restore();
  return y + side + 2 * quiet;
}

const ACROSS = 5;

/** Further pages for a proof too long for the face. */
function drawCodePages(doc: PDFKit.PDFDocument, set: Setter, scene: CertificateScene): void {
  const cell = { width: (PAGE_MM.width - 2 * FRAME) / ACROSS, height: 58 };
  scene.codes.forEach((code, i) => {
    if (i % (3 * ACROSS) === 0) {
      doc.addPage();
      const head = `${scene.edition}, ${scene.label}: the proof, all codes to be read; check with burin verify`;
      set.fittedLine(head, FRAME, FRAME + 4, PAGE_MM.width - 2 * FRAME, {
        face: 'text',
        size: 3.4,
        fill: INK,
      });
    }
    const place = i % (3 * ACROSS);
    const x = FRAME + ((place % ACROSS) + 0.5) * cell.width;
    const y = FRAME + 10 + Math.floor(place / ACROSS) * cell.height;
    const below = drawSymbol(doc, code, x, y);
    const text = `${i + 1} of ${scene.codes.length}`;
    set.line(text, x, below + 2, { face: 'text', size: SMALL_MM, fill: QUIET, anchor: 'middle' });
  });
}

const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
];

/** A day in English, whatever the language of the machine. */
function formatDay(day: string): string {
  const [year, month, date] = day.split('-').map(Number);
  return `${date} ${MONTHS[month! - 1]} ${year}`;
}
