import type { Worker } from 'tesseract.js';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Font } from '../../src/lettering/font.js';
import { outlineFont } from '../../src/lettering/outline-font.js';
import { fontFile } from '../lettering/made-fonts.js';
import { fonts, inWords, LABELS, type Misreading, misread, openReader, PROOFS, SIZES } from './ocr-reader.js';

describe('labels in the stroke family, read by Tesseract', () => {
  let worker: Worker;

  beforeAll(async () => {
    worker = await openReader();
  });

  afterAll(() => worker.terminate());

  it('are read right to the letter, 99 of a hundred at least', async () => {
    const wrong: Misreading[] = [];
    for (const font of fonts) wrong.push(...(await misread(worker, font, LABELS)));
    const count = LABELS.length * fonts.length;
    expect(count).toBeGreaterThanOrEqual(200);
    expect(wrong.length, inWords(wrong)).toBeLessThanOrEqual(count / 100);
  });

  // Tesseract drops a stop of A.P. in book faces too, takes I, 1 and l for one another where no other letter
  // tells them apart, and does not always count the strokes of III, in print either. So stops and spaces are let go
  // here, a book face is read beside, and no style may lose many more than it.
  it('in Roman numerals are read nearly as well as those of a book face', async () => {
    const book = outlineFont('garamond', fontFile('garamond'));
    if (!book.ok) throw new Error(book.problem.code);
    const bare = (text: string): string => text.replace(/[\s.]/g, '').replace(/[1l]/g, 'I');
    const lost = async (font: Font): Promise<Misreading[]> => {
      const wrong = await misread(worker, font, [...PROOFS, ...PROOFS, ...PROOFS], thrice);
      return wrong.filter(({ label, read }) => bare(label) !== bare(read));
    };
    const print = await lost(book.font);
    for (const font of fonts) {
      const wrong = await lost(font);
      expect(wrong.length, inWords(wrong)).toBeLessThanOrEqual(print.length + 3);
    }
  });
});

/** Every proof at every size: nine at one, nine at the next. */
const thrice = SIZES.flatMap((size) => Array.from({ length: 9 }, () => size));
