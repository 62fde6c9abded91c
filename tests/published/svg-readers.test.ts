import { readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { closeSubpaths } from '../../src/artwork/boolean.js';
import { determinant, type Matrix, times, transformPath } from '../../src/artwork/svg/matrix.js';
import { readSvg } from '../../src/artwork/svg/read-svg.js';
import { boundsOfCurves } from '../../src/geometry/curve-bounds.js';
import { flatten } from '../../src/geometry/flatten.js';
import type { PathCommand } from '../../src/geometry/path-command.js';
import { exactArea } from '../artwork/measure.js';
import { sharedChromium } from '../browser/chromium.js';
import { lineOf } from '../words-of.js';
import { MADE, type Made } from './svg-files.js';
import { type Measure, measured } from './svg-measure.js';

/*
 * Drawings read by burin and by the path import of paper.js 0.12 (MIT), which burin uses for booleans and not for reading:
 * areas and bounds of each file. What a file draws, and where, is taken from SVG 2 (W3C, https://www.w3.org/TR/SVG2/) by
 * hand for the files made here, and from the files' plain form for Bootstrap Icons 1.13 (MIT) and the world of @svg-maps
 * (CC BY 4.0). paper.js draws an arc as a cubic for each quarter turn, which strays 2.7e-4 of its radius at the most.
 */
const BAR = 1e-6;
// Of an area that is the difference of large ones, the same straying is a larger share.
const ARC_BAR = 3e-3;
const MM = 25.4 / 96;
const need = createRequire(import.meta.url);
const ICONS = join(dirname(need.resolve('bootstrap-icons/package.json')), 'icons');
const WORLD = join(dirname(need.resolve('@svg-maps/world/package.json')), 'world.svg');

function icons(): Made[] {
  const names = readdirSync(ICONS).filter((n) => n.endsWith('.svg'));
  const step = Math.floor(names.length / 190);
  return names
    .filter((_, k) => k % step === 0)
    .map((name) => ({ name, text: readFileSync(join(ICONS, name), 'utf8'), told: [] }))
    .filter(({ text }) => [...text.matchAll(/<(\w+)/g)].every(([, tag]) => tag === 'svg' || tag === 'path'))
    .map((file) => ({ ...file, drawn: plain(file.text), size: [16, 16] as const }));
}

function world(): Made {
  const text = readFileSync(WORLD, 'utf8');
  return { name: 'the world', text, drawn: plain(text), told: [], size: [1010, 666] };
}

/** The paths of a file that has no transforms and a viewBox of its own size. */
const plain = (text: string): [string, string][] =>
  [...text.matchAll(/\sd="([^"]*)"/g)].map(([, d]) => [d!, '']);

/** A drawing's measure in px, y down. */
function ours(paths: readonly (readonly PathCommand[])[], height: number): Measure {
  const boxes = paths.map((path) => boundsOfCurves(path));
  const edge = (k: 0 | 1 | 2 | 3, of: (...v: number[]) => number) => of(...boxes.map((b) => b[k]));
  return {
    area: -paths.reduce((sum, path) => sum + exactArea(closeSubpaths(path)), 0) / MM / MM,
    box: [
      edge(0, Math.min) / MM,
      (height - edge(3, Math.max)) / MM,
      edge(2, Math.max) / MM,
      (height - edge(1, Math.min)) / MM,
    ],
  };
}

const FILES: readonly Made[] = [...MADE, ...icons(), world()];

it('reads three hundred files', () => {
  expect(FILES.length).toBeGreaterThanOrEqual(300);
});

describe('drawings, against paper.js and SVG 2', () => {
  it.each(FILES.map((file) => [file.name, file] as const))('%s', (_, { text, drawn, told, size }) => {
    const read = readSvg(text, 'art.svg');
    if (!read.ok) throw new Error(lineOf(read.problem));
    const { paths, width, height } = read.drawing;
    expect([width / MM, height / MM].map((v) => v.toFixed(9))).toEqual(
      (size ?? [100, 80]).map((v) => v.toFixed(9)),
    );
    expect(paths).toHaveLength(drawn.length);
    expect(read.remarks.map(({ code }) => code)).toEqual(told);
    if (drawn.length === 0) return;
    const mine = ours(
      paths.map((p) => p.path),
      height,
    );
    const wanted = measured(drawn);
    const bar = drawn.some(([d]) => /a/i.test(d)) ? ARC_BAR : BAR;
    const [x0, y0, x1, y1] = wanted.box;
    const across = Math.hypot(x1 - x0, y1 - y0);
    for (const k of [0, 1, 2, 3] as const)
      expect(Math.abs(mine.box[k] - wanted.box[k]) / across).toBeLessThan(bar);
    const least = 1e-3 * (x1 - x0) * (y1 - y0);
    expect(Math.abs(mine.area - wanted.area) / Math.max(Math.abs(wanted.area), least)).toBeLessThan(bar);
  });
});

describe('arcs, against plane geometry', () => {
  it.each([
    ['a circle', '<circle cx="40" cy="35" r="20"/>', Math.PI * 400],
    ['an ellipse', '<ellipse cx="40" cy="35" rx="30" ry="12"/>', Math.PI * 360],
    [
      'round corners',
      '<rect x="10" y="12" width="50" height="30" rx="8" ry="5"/>',
      1500 - (4 - Math.PI) * 40,
    ],
    ['a sector', '<path d="M40 40V20A20 20 0 0 1 60 40Z"/>', Math.PI * 100],
    ['all but a sector', '<path d="M40 40V20A20 20 0 1 0 60 40Z"/>', Math.PI * 300],
  ])('%s', (_, inner, wanted) => {
    const read = readSvg(
      `<svg xmlns="http://www.w3.org/2000/svg" width="100" height="80">${inner}</svg>`,
      'art.svg',
    );
    if (!read.ok) throw new Error(read.problem.code);
    const area = Math.abs(exactArea(closeSubpaths(read.drawing.paths[0]!.path))) / MM / MM;
    expect(Math.abs(area / wanted - 1)).toBeLessThan(BAR);
  });
});

/** What Chromium makes of each shape: box and length in the shape's own units, and its map to px. */
interface Seen {
  readonly box: readonly [number, number, number, number];
  readonly length: number;
  readonly map: Matrix;
}

/** Run in the page. */
const LOOK = `(text, [width, height]) => {
  const root = document.importNode(new DOMParser().parseFromString(text, 'image/svg+xml').documentElement, true);
  document.body.replaceChildren(root);
  if (!root.hasAttribute('width')) root.setAttribute('width', width);
  if (!root.hasAttribute('height')) root.setAttribute('height', height);
  root.style.position = 'absolute';
  const base = root.getBoundingClientRect();
  return [...root.querySelectorAll('path,rect,circle,ellipse,polyline,polygon')].map((shape) => {
    const { x, y, width, height } = shape.getBBox();
    const { a, b, c, d, e, f } = shape.getScreenCTM();
    return {
      box: [x, y, x + width, y + height],
      length: shape.getTotalLength(),
      map: [a, b, c, d, e - base.left, f - base.top],
    };
  });
}`;

const inverse = (m: Matrix): Matrix => {
  const [a, b, c, d, e, f] = m;
  const k = determinant(m);
  return [d / k, -b / k, -c / k, a / k, (c * f - d * e) / k, (b * e - a * f) / k];
};

const lengthOf = (path: readonly PathCommand[], fine: number): number =>
  flatten(path, 1, fine).reduce((sum, { points, closed }) => {
    const n = points.length;
    let length = 0;
    for (let i = closed ? 0 : 2; i < n; i += 2) {
      const j = (i + n - 2) % n;
      length += Math.hypot(points[i]! - points[j]!, points[i + 1]! - points[j + 1]!);
    }
    return sum + length;
  }, 0);

/*
 * Bars, as parts of the shape. Chromium holds geometry in float32 (24 bits), so that thousands of relative steps add up
 * to some 1e-6; draws an arc as a cubic for each quarter turn, which strays 2.7e-4 of its radius at the most; and
 * measures curves by chords. These are the bars it can hold, not ours.
 */
const LINES = { box: 1e-5, length: 1e-5 };
const CURVES = { box: 1e-6, length: 1e-3 };
const ARCS = { box: 3e-4, length: 1e-2 };
/** It also lays a page out in steps of 1/64 px, so that sizes of broken px are scaled by up to this much off. */
const ROUNDED = 1e-4;
const rounded = (size: Made['size']) => size?.some((v) => !Number.isInteger(64 * v)) ?? false;

describe('drawings, against Chromium', () => {
  let page: Page;
  beforeAll(async () => {
    page = await (await sharedChromium()).newPage();
  });
  afterAll(async () => {
    await page?.close();
  });

  // Shapes that are hidden, or drawn by `use`, have no geometry there that a page can ask for.
  const whole = FILES.filter(
    ({ text, drawn }) =>
      !/<use|<style|opacity|visibility|<defs|<clip|<pattern|<marker|<switch|"none"/.test(text) &&
      drawn.length > 0,
  );

  it('sees most of the files', () => {
    expect(whole.length).toBeGreaterThanOrEqual(280);
  });

  it.each(whole.map((file) => [file.name, file] as const))('%s', async (_, { text, drawn, size }) => {
    const seen = (await page.evaluate(
      `(${LOOK})(${JSON.stringify(text)}, ${JSON.stringify(size ?? [100, 80])})`,
    )) as Seen[];
    const read = readSvg(text, 'art.svg');
    if (!read.ok) throw new Error(lineOf(read.problem));
    expect(read.drawing.paths).toHaveLength(seen.length);
    const toPx: Matrix = [1 / MM, 0, 0, -1 / MM, 0, read.drawing.height / MM];
    for (const [k, { box, length, map }] of seen.entries()) {
      const own = transformPath(read.drawing.paths[k]!.path, times(inverse(map), toPx));
      const mine = boundsOfCurves(own);
      const across = Math.max(...box.map(Math.abs));
      const off = Math.max(...box.map((v, i) => Math.abs(v - mine[i]!))) / across;
      const longer = Math.abs(lengthOf(own, across * 1e-7) - length) / Math.max(length, across);
      const bar = drawn.some(([d]) => /a/i.test(d))
        ? ARCS
        : own.some(([c]) => c !== 'M' && c !== 'L' && c !== 'Z')
          ? CURVES
          : LINES;
      expect(off).toBeLessThan(rounded(size) ? ROUNDED : bar.box);
      expect(longer).toBeLessThan(rounded(size) ? ROUNDED + bar.length : bar.length);
    }
  });
});
