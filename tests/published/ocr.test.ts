import type { Worker } from 'tesseract.js';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { fonts, inWords, LABELS, type Misreading, misread, openReader } from './ocr-reader.js';

/** Every tenth label, so that each kind and each size is read; `ocr.slow.test.ts` reads them all. */
const SAMPLE = LABELS.filter((_, k) => k % 10 === 0);

let worker: Worker;
beforeAll(async () => {
  worker = await openReader();
});
afterAll(() => worker.terminate());

it('a tenth of the labels of an edition, in each style, is read by Tesseract with one slip at most', async () => {
  const wrong: Misreading[] = [];
  for (const font of fonts) wrong.push(...(await misread(worker, font, SAMPLE)));
  expect(SAMPLE.length * fonts.length).toBeGreaterThanOrEqual(20);
  expect(wrong.length, inWords(wrong)).toBeLessThanOrEqual(1);
});
