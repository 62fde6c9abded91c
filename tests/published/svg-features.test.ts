import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readArtwork } from '../../src/artwork/artwork.js';
import { outlines } from '../../src/artwork/svg/outlines.js';
import type { PathCommand } from '../../src/geometry/path-command.js';
import { sharedChromium } from '../browser/chromium.js';
import { lineOf } from '../words-of.js';
import { CUT_FEATURES, LEFT_OUT_FEATURES, READ_FEATURES } from './svg-features.js';

/*
 * Every feature that moves ink, against Chromium: what burin reads of a file and the file itself are drawn by the same
 * Chromium, as pictures of 400 by 400 px, and compared pixel by pixel.
 */
const MM = 25.4 / 96;
const NS = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"';
const whole = (inner: string): string =>
  /^<(?:svg xmlns|\?xml)/.test(inner)
    ? inner
    : `<svg ${NS} width="400" height="400" viewBox="0 0 100 100">${inner}</svg>`;

/** Pixels that may differ, of 160,000: edges are blended a little otherwise where curves are split otherwise. */
const MOST_DIFFERENT = 60;
const LEAST_INK = 100;

const dataOf = (path: readonly PathCommand[]): string => path.map((s) => s.join(' ')).join('');

function read(text: string) {
  const made = readArtwork('a', new TextEncoder().encode(text), 'art.svg');
  if (!made.ok) throw new Error(lineOf(made.problem));
  const { drawing } = made.artwork;
  const { areas } = outlines(drawing, 'outline');
  const [w, h] = [drawing.width / MM, drawing.height / MM];
  const svg = `<svg ${NS} width="${w}" height="${h}"><path transform="matrix(${1 / MM} 0 0 ${-1 / MM} 0 ${h})" d="${dataOf(areas)}"/></svg>`;
  return { svg, codes: made.remarks.map((r) => r.code) };
}

/** Run in the page: the pixels with ink of each picture, and how many differ in their ink by more than half. */
const COMPARE = `async (a, b) => {
  const inks = async (text) => {
    const image = new Image();
    image.src = 'data:image/svg+xml;charset=utf-8,' + encodeURIComponent(text);
    await image.decode();
    const canvas = new OffscreenCanvas(400, 400);
    const context = canvas.getContext('2d', { willReadFrequently: true });
    context.drawImage(image, 0, 0, image.naturalWidth, image.naturalHeight);
    return context.getImageData(0, 0, 400, 400).data;
  };
  const [p, q] = [await inks(a), await inks(b)];
  let [different, ink] = [0, 0];
  for (let alpha = 3; alpha < p.length; alpha += 4) {
    if (p[alpha] > 128) ink++;
    if (Math.abs(p[alpha] - q[alpha]) > 128) different++;
  }
  return { ink, different };
}`;

describe('features of SVG files, against Chromium', () => {
  let page: Page;
  beforeAll(async () => {
    page = await (await sharedChromium()).newPage();
  });
  afterAll(async () => {
    await page?.close();
  });
  const compare = (a: string, b: string) =>
    page.evaluate(`(${COMPARE})(${JSON.stringify(a)}, ${JSON.stringify(b)})`) as Promise<{
      ink: number;
      different: number;
    }>;

  it.each(READ_FEATURES.map((f) => [f.name, f] as const))('read: %s', async (_, { inner, plain, empty }) => {
    const text = whole(inner);
    const { svg } = read(text);
    const { ink, different } = await compare(text, svg);
    expect(different).toBeLessThanOrEqual(MOST_DIFFERENT);
    if (empty) expect(ink).toBe(0);
    else expect(ink).toBeGreaterThan(LEAST_INK);
    if (plain !== undefined) expect((await compare(text, whole(plain))).different).toBeGreaterThan(LEAST_INK);
  });

  it.each([...LEFT_OUT_FEATURES, ...CUT_FEATURES].map((f) => [f.name, f] as const))(
    'with a remark: %s',
    async (_, { inner, plain, code }) => {
      const text = whole(inner);
      expect(read(text).codes).toContain(code);
      if (plain !== undefined)
        expect((await compare(text, whole(plain))).different).toBeGreaterThan(LEAST_INK);
    },
  );
});

describe('the page about SVG files', () => {
  const page = readFileSync('docs/artwork-svg.md', 'utf8');
  const tableOf = (title: string): string[] =>
    [...(page.split(`## ${title}\n`)[1]?.split('\n## ')[0] ?? '').matchAll(/^\| (.*?[^\\]) \| [^|]*\|$/gm)]
      .map(([, name]) => name!.replaceAll('\\|', '|'))
      .filter((name) => name !== 'feature' && name !== 'what');

  it.each([
    ['Read', READ_FEATURES],
    ['Left out, with a remark', LEFT_OUT_FEATURES],
    ['Cut all the same, with a remark', CUT_FEATURES],
  ] as const)('lists just the features that are tested: %s', (title, features) => {
    expect(tableOf(title).sort()).toEqual(features.map((f) => f.name).sort());
  });
});
