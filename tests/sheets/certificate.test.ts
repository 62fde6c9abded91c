import { describe, expect, test } from 'vitest';
import { certificateFaces } from '../../src/app/certificate-faces.js';
import type { TextDirection } from '../../src/layout/glyph-placement.js';
import { DOES_NOT_PROVE, PROVES } from '../../src/register/certificate/certificate-form.js';
import { codeOf, fromCode } from '../../src/register/certificate/code.js';
import { verifyCertificate } from '../../src/register/certificate/verify.js';
import { type CertificateScene, certificatePdf } from '../../src/sheets/certificate.js';
import { type CutNumber, readableNumber } from '../../src/sheets/certificate-number.js';
import { MODULE_MM, modulesOf } from '../../src/sheets/certificate-symbol.js';
import { units } from '../../src/sheets/certificate-type.js';
import { extentOf } from '../../src/sheets/extent.js';
import { genuine, maker, OTHER_OWNER, OWNER } from '../register/certificate/maker.js';
import { HOSTILE } from './drawn.js';
import { blocksOf, capSurface, numberBlocks } from './lantern-coast.js';
import { DOTS, type Picture, readPdf, readSymbols } from './pdf-reader.js';

const faces = await certificateFaces();
const { certificate, file } = genuine();

const scene: CertificateScene = {
  maker: certificate.maker,
  edition: certificate.edition.name,
  series: certificate.series.title,
  label: certificate.label,
  parts: certificate.parts,
  dates: [
    { what: 'issued', day: '2031-03-01' },
    { what: 'engraved', day: '2031-03-04' },
  ],
  number: {
    surface: capSurface,
    direction: { baseline: 'ring', reading: 'up' },
    blocks: numberBlocks('12/90'),
    cutWidth: 0.18,
  },
  codes: codeOf(file),
  proves: PROVES,
  doesNotProve: DOES_NOT_PROVE,
  checkpoint: { origin: 'lantern-coast.example/register', size: 200, root: Buffer.alloc(32, 0xa5) },
  file: { name: 'main-0012.json', bytes: file },
  at: new Date('2031-03-04T12:00:00.000Z'),
};

const cutNumber = scene.number!;
const drawn = (changes: Partial<CertificateScene> = {}) => certificatePdf({ ...scene, ...changes }, faces);
const flat = (text: string): string => text.replace(/\s+/g, ' ');
/** The certificate as it is, and as it is read. */
const pdf = await drawn();
const pages = await readPdf(pdf);

describe('the page', () => {
  // ISO 32000-1, 8.3.2.3: the default unit is 1/72 inch; an inch is 25.4 mm. ISO 216: A4 is 210 mm by 297 mm.
  test('is A4, lying, and 100 mm are 283.4646 units', async () => {
    expect(units(100)).toBeCloseTo(283.4646, 4);
    const [page, more] = pages;
    expect(more).toBeUndefined();
    expect(page!.width).toBeCloseTo((297 / 25.4) * 72, 2);
    expect(page!.height).toBeCloseTo((210 / 25.4) * 72, 2);
  });

  test('can be searched for what it says', async () => {
    const [page] = pages;
    for (const words of [
      'Lantern Coast, makers of writing instruments',
      'Nine Lights',
      'Numbered edition',
      'Number 12/90',
      'Sterling silver 925',
      '4 March 2031',
      'burin verify',
      'a5a5 a5a5 a5a5 a5a5',
      '200 events',
    ])
      expect(flat(page!.text)).toContain(words);
    expect(flat(page!.text)).toContain(PROVES);
    expect(flat(page!.text)).toContain(DOES_NOT_PROVE);
  });

  test('is the same bytes for the same scene, and bears no other time than the one given', async () => {
    expect(Buffer.from(await drawn()).equals(Buffer.from(pdf))).toBe(true);
    const times = Buffer.from(pdf)
      .toString('latin1')
      .match(/D:\d{14}Z?|\d{4}-\d\d-\d\dT[\d:]{8}Z/g)!;
    expect(times.length).toBeGreaterThan(2);
    for (const time of times) expect(time.replace(/\D/g, '')).toBe('20310304120000');
  });

  test('carries the certificate itself, byte for byte', async () => {
    expect(Buffer.from(pdf).includes(Buffer.from(file))).toBe(true);
  });
});

/** Whether the picture is dark at a place, mm from the upper left corner. */
const dark = ({ data, width }: Picture, x: number, y: number): boolean =>
  data[4 * (Math.round(y * DOTS) * width + Math.round(x * DOTS))]! < 128;

describe('the number', () => {
  test('is drawn from the very lines that are cut', async () => {
    const { lines, width, height } = readableNumber(cutNumber);
    const [page] = pages;
    const told = /([\d.]+) times as large/.exec(flat(page!.text))![1]!;
    const scale = 30 / (height + cutNumber.cutWidth);
    expect(Number(told)).toBeCloseTo(scale, 1);
    const [x, y] = [(11 + 229) / 2, 97];
    let seen = 0;
    for (const { points } of lines)
      for (let i = 0; i < points.length; i += 2, seen++)
        expect(dark(page!.picture, x + points[i]! * scale, y - points[i + 1]! * scale)).toBe(true);
    expect(seen).toBeGreaterThan(50);
    // and nothing is drawn on either side of it
    expect(dark(page!.picture, x + (width * scale) / 2 + 4, y)).toBe(false);
  });

  test('is the same, upright and centred, however it lies on the piece', () => {
    const points = (number: CutNumber): number[] =>
      readableNumber(number).lines.flatMap((line) => [...line.points]);
    const upright = points(cutNumber);
    const [left, right] = extentOf(upright.filter((_, i) => i % 2 === 0));
    const [bottom, top] = extentOf(upright.filter((_, i) => i % 2 === 1));
    expect(left).toBeCloseTo(-right, 9);
    expect(bottom).toBeCloseTo(-top, 9);
    expect(right - left).toBeGreaterThan(top - bottom);
    const directions: [TextDirection, number][] = [
      [{ baseline: 'ring', reading: 'up' }, 0],
      [{ baseline: 'ring', reading: 'down' }, 77],
      [{ baseline: 'lengthwise', reading: 'up' }, 180],
      [{ baseline: 'lengthwise', reading: 'down' }, 359],
    ];
    for (const [direction, angle] of directions) {
      const blocks = blocksOf(capSurface, 'number', '12/90', 3.2, direction, { z: 26, angle });
      const turned = points({ ...cutNumber, direction, blocks });
      expect(turned).toHaveLength(upright.length);
      turned.forEach((v, i) => {
        expect(v).toBeCloseTo(upright[i]!, 6);
      });
    }
  });
});

describe('the code', () => {
  test('is read by another program from the page, and is the whole proof', async () => {
    const [page] = pages;
    const symbols = await readSymbols(page!.picture);
    expect(symbols).toHaveLength(scene.codes.length);
    const read = fromCode(symbols.map((s) => s.text).join('\n'));
    expect(read).toEqual({ ok: true, bytes: Buffer.from(file) });
    if (read.ok) expect(verifyCertificate(read.bytes, maker.publicKey)).toMatchObject({ ok: true });
  });

  test('has its true size', async () => {
    // As docs/certificates.md promises to whoever prints it.
    expect(MODULE_MM).toBe(0.35);
    const [page] = pages;
    for (const { text, position } of await readSymbols(page!.picture)) {
      const { topLeft, topRight, bottomLeft } = position;
      const side = modulesOf(text).length * MODULE_MM;
      expect(Math.abs((topRight.x - topLeft.x) / DOTS - side)).toBeLessThan(0.3);
      expect(Math.abs((bottomLeft.y - topLeft.y) / DOTS - side)).toBeLessThan(0.3);
    }
  });

  test('of a long proof goes to a second leaf, every part of it', async () => {
    const bytes = Buffer.from(Array.from({ length: 900 }, (_, i) => (i * 2654435761).toString(36)).join(' '));
    const codes = codeOf(bytes);
    expect(codes.length).toBeGreaterThan(3);
    const pages = await readPdf(await drawn({ codes }));
    expect(pages).toHaveLength(2);
    expect(flat(pages[0]!.text)).toContain(`in the ${codes.length} codes on the second leaf`);
    const symbols = await readSymbols(pages[1]!.picture);
    expect(fromCode(symbols.map((s) => s.text).join('\n'))).toEqual({ ok: true, bytes });
  });
});

describe('names', () => {
  test('of many scripts are set as they are written', async () => {
    const owner = 'Łucja Dvořák-Őry, Ελένη, Жанна';
    const [page] = await readPdf(await drawn({ owner, edition: 'Żar Ľudí' }));
    expect(flat(page!.text)).toContain(owner);
    expect(flat(page!.text)).toContain('Żar Ľudí');
  });

  test('stay inert, whatever is in them', async () => {
    const strange = [...HOSTILE, 'zero\u200bwidth', 'soft\u00adhyphen', 'a\u3164b'];
    const pages = await readPdf(
      await drawn({
        maker: strange.join(''),
        edition: strange[4]!,
        series: strange[11]!,
        label: strange[6]!,
        owner: strange[10]!,
        parts: strange.map((text) => ({ name: text, material: text })),
      }),
    );
    expect(pages).toHaveLength(1);
    const [{ text, picture }] = pages as [(typeof pages)[0]];
    // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what must not be there
    expect(text).not.toMatch(/[\u0000-\u0009\u061c\u200b-\u200f\u202a-\u202e\u2066-\u2069\u3164\u00ad]/);
    for (const words of ['[U+202E]09/21', 'zero[U+200B]width', 'a[U+3164]b', '<script>alert(1)</script>'])
      expect(flat(text)).toContain(words);
    expect(await readSymbols(picture)).toHaveLength(scene.codes.length);
  });

  test('that hide a mark show it', () => {
    const face = faces.text;
    const shownAs = (text: string): string =>
      face
        .runsOf(text)
        .map((s) => s.text)
        .join('');
    expect(shownAs('09\u202e/21')).toBe('09[U+202E]/21');
    expect(shownAs('A\u200bB')).toBe('A[U+200B]B');
    expect(shownAs('\u4e5d')).toBe('[U+4E5D]');
    // a look-alike keeps its own code: who copies it from the page finds it out
    expect(shownAs('\u0410.P.')).toBe('\u0410.P.');
  });
});

describe('the privacy of owners', () => {
  test('nobody else is named in any byte of any form of a certificate', async () => {
    const { certificate: own, file: bytes } = genuine(true);
    const pdf = await drawn({ owner: own.owner, codes: codeOf(bytes), file: { ...scene.file, bytes } });
    const [page] = await readPdf(pdf);
    const forms = [Buffer.from(bytes), Buffer.from(pdf), Buffer.from(page!.text)];
    const names = [OTHER_OWNER, ...OTHER_OWNER.split(' ')];
    for (const form of forms) {
      for (const name of names)
        for (const encoding of ['utf8', 'utf16le', 'hex', 'base64'] as const)
          expect(form.includes(Buffer.from(Buffer.from(name).toString(encoding)))).toBe(false);
      expect(form.includes(Buffer.from(OWNER))).toBe(true);
    }
  });
});
