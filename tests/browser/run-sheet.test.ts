import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AxeResults } from 'axe-core';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { CutBlock } from '../../src/cutting/cuts.js';
import { writeProof } from '../../src/sheets/proof.js';
import { type RunSheet, writeRunSheet } from '../../src/sheets/run-sheet.js';
import { type SheetScene, writeSheet } from '../../src/sheets/sheet.js';
import { joinChunks } from '../../src/text-chunks.js';
import {
  barrelScene,
  canvas,
  capScene,
  numberBlocks,
  plainScene,
  proofScene,
  runScene,
  words,
} from '../sheets/lantern-coast.js';
import { sharedChromium } from './chromium.js';

let page: Page;

beforeAll(async () => {
  page = await (await sharedChromium()).newPage({ viewport: { width: 1000, height: 1400 } });
});
afterAll(async () => {
  await page?.close();
});

const LONG =
  'H.C. CCCLXXXVIII/CCCLXXXVIII for the keepers of the western light and of the eastern, with thanks, W';
const MM = 96 / 25.4;

const runSheet = (run: RunSheet) => writeRunSheet(canvas, run);
const sheet = (scene: SheetScene, label: string, blocks: readonly CutBlock[]) =>
  writeSheet(canvas, scene, label, blocks);

describe('the run sheet in a browser', () => {
  // Web Content Accessibility Guidelines 2.2, levels A and AA, as axe-core tests them.
  it('has no serious or critical finding', async () => {
    await page.setContent(runSheet(runScene));
    await page.evaluate(readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8'));
    const results = (await page.evaluate(
      `axe.run({ runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] })`,
    )) as AxeResults;
    expect(results.passes.length).toBeGreaterThan(10);
    const bad = results.violations.filter((v) => v.impact === 'serious' || v.impact === 'critical');
    expect(bad.map((v) => `${v.id}: ${v.nodes.map((n) => n.html).join(' | ')}`)).toEqual([]);
  });

  it('keeps long names inside an A4 page', async () => {
    const [operation] = runScene.operations;
    await page.setViewportSize({ width: Math.round(182 * MM), height: 1400 });
    await page.emulateMedia({ media: 'print' });
    const piece = { label: LONG, file: `${'cap-with-a-long-name-'.repeat(5)}.ngc`, minutes: 1000 };
    await page.setContent(
      runSheet({
        ...runScene,
        edition: LONG,
        operations: [{ ...operation!, pieces: [piece, ...operation!.pieces] }],
      }),
    );
    const past = await page.evaluate(
      `[...document.querySelectorAll('main *')].filter((e) => e.getBoundingClientRect().right > innerWidth + 0.5).map((e) => e.outerHTML.slice(0, 80))`,
    );
    expect(past).toEqual([]);
    await page.emulateMedia({ media: null });
    await page.setViewportSize({ width: 1000, height: 1400 });
  });
});

interface Drawn {
  readonly overlaps: readonly string[];
  readonly outside: readonly string[];
  readonly width: number;
  readonly height: number;
  readonly count: number;
}

/** Runs in the page: texts that meet, and anything past the edge of the sheet. */
const MEASURE = `(() => {
  const root = document.documentElement;
  const edge = root.getBoundingClientRect();
  const texts = [...root.querySelectorAll('text')].map((e) => ({ words: e.textContent, box: e.getBoundingClientRect() }));
  const overlaps = [];
  texts.forEach((a, i) => texts.slice(i + 1).forEach((b) => {
    // A box is as tall as the typeface's tallest letter; letters that meet, meet by more than its slack.
    const slack = 0.2 * Math.min(a.box.height, b.box.height);
    const across = Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left);
    const along = Math.min(a.box.bottom, b.box.bottom) - Math.max(a.box.top, b.box.top);
    if (across > 0.1 && along > slack) overlaps.push(a.words + ' | ' + b.words);
  }));
  const outside = [...root.querySelectorAll('text, path')].filter((e) => {
    const box = e.getBoundingClientRect();
    return box.left < edge.left - 0.1 || box.right > edge.right + 0.1 || box.top < edge.top - 0.1 || box.bottom > edge.bottom + 0.1;
  }).map((e) => e.textContent || e.outerHTML.slice(0, 90));
  return { overlaps, outside, width: edge.width, height: edge.height, count: texts.length };
})()`;

async function measured(svg: string): Promise<Drawn> {
  await page.goto(`data:image/svg+xml;base64,${Buffer.from(svg).toString('base64')}`);
  return (await page.evaluate(MEASURE)) as Drawn;
}

const long = (scene: SheetScene): SheetScene => ({
  ...scene,
  edition: LONG,
  bench: LONG,
  part: { ...scene.part, name: LONG },
  marks: [{ ...scene.marks[0]!, name: 'a-mark-with-a-long-name-of-its-own', cutter: LONG }],
  designs: [{ name: LONG, digest: 'f'.repeat(64) }],
});

const pictures = runSheet(runScene).match(/<svg .*?<\/svg>/gs) ?? [];

describe('sheets in a browser', () => {
  it('has a picture for each operation', () => expect(pictures).toHaveLength(2));

  it('would be found out: two texts that meet, and one past the edge', async () => {
    const drawn = await measured(
      '<svg xmlns="http://www.w3.org/2000/svg" width="50mm" height="20mm" viewBox="0 0 50 20" font-size="3">' +
        '<text x="5" y="10">one</text><text x="7" y="10.5">two</text><text x="48" y="15">three</text></svg>',
    );
    expect(drawn.overlaps).toEqual(['one | two']);
    expect(drawn.outside).toEqual(['three']);
  });

  it.each([
    ['cap', sheet(capScene, '12/90', numberBlocks('12/90'))],
    ['cap seen from the clip', sheet({ ...capScene, viewAngle: 0 }, '12/90', numberBlocks('12/90'))],
    ['barrel', sheet(barrelScene, 'AP VIII/IX', words)],
    ['cap with long names', sheet(long(capScene), LONG, numberBlocks('12/90'))],
    ['wide letters', sheet(capScene, 'WMWMWM@@@WWW', [])],
    ['steep cone, widening', sheet(plainScene(0, 8, 4, 14), '1/90', [])],
    ['steep cone, narrowing', sheet(plainScene(-3.2, 8, 14, 4), '1/90', [])],
    ['a disc almost', sheet(plainScene(0, 12, 2, 28), '1/90', [])],
    ['a short ring', sheet(plainScene(0, 3, 4, 4), '1/90', [])],
    ['a long stem', sheet(plainScene(-37.4, 121.6, 7, 8), '1/90', [])],
    ['a place far from the datum', sheet(plainScene(-137.45, -102.35, 7, 7.5), '1/90', [])],
    ['proof', joinChunks(writeProof(canvas, proofScene))],
    ...pictures.map((svg, k) => [`picture of operation ${k + 1}`, svg] as const),
  ] as const)('%s: no texts overlap, and nothing is outside', async (_, svg) => {
    const drawn = await measured(svg);
    expect(drawn.count).toBeGreaterThan(8);
    expect(drawn.overlaps).toEqual([]);
    expect(drawn.outside).toEqual([]);
    // CSS Values 4, section 6.2: 1in is 96px and 25.4mm.
    const [, width, height] = svg.match(/^<svg [^>]*width="([\d.]+)mm" height="([\d.]+)mm"/)!;
    expect(drawn.width / MM).toBeCloseTo(Number(width), 1);
    expect(drawn.height / MM).toBeCloseTo(Number(height), 1);
  });
});
