import { readFileSync } from 'node:fs';
import { Resvg } from '@resvg/resvg-js';
import { describe, expect, it } from 'vitest';
import { flatten } from '../../src/geometry/flatten.js';
import type { DigitStyle, Glyph } from '../../src/lettering/font.js';
import { strokeFont } from '../../src/lettering/stroke-font.js';
import { lineOf } from '../words-of.js';

// The committed file, read as any stroke font is; that it is what the source writes is asked of every style at once.
const text = readFileSync(new URL('../../fonts/burin-roman.svg', import.meta.url), 'utf8');
const read = strokeFont('burin-roman', text);
if (!read.ok) throw new Error(lineOf(read.problem));
const { font } = read;

type Point = readonly [x: number, y: number];
const glyphOf = (c: string, digits: DigitStyle = 'tabular'): Glyph => font.glyph(c, digits)!;

/** The strokes of a glyph as runs of points, in letter heights. */
const runs = (glyph: Glyph): Point[][] =>
  flatten(glyph.path, 1, 0.0005).map(({ points }) =>
    Array.from({ length: points.length / 2 }, (_, i): Point => [points[2 * i]!, points[2 * i + 1]!]),
  );

/** Points so near together that distances between two clouds are good to a hundredth of the height. */
function cloud(glyph: Glyph): Point[] {
  return runs(glyph).flatMap((run) =>
    run.slice(1).flatMap((b, i) => {
      const a = run[i]!;
      const steps = Math.ceil(Math.hypot(b[0] - a[0], b[1] - a[1]) / 0.02);
      return Array.from({ length: steps + 1 }, (_, k): Point => {
        const t = k / steps;
        return [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
      });
    }),
  );
}

function bounds(glyph: Glyph) {
  const points = runs(glyph).flat();
  const [xs, ys] = [points.map((p) => p[0]), points.map((p) => p[1])];
  const [left, right] = [Math.min(...xs), Math.max(...xs)];
  return { width: right - left, foot: Math.min(...ys), head: Math.max(...ys) };
}

/** Level strokes at a height: from where to where they run, overlapping ones taken together. */
function levels(glyph: Glyph, y: number): Point[] {
  const flat: Point[] = [];
  for (const run of runs(glyph))
    run.slice(1).forEach((b, i) => {
      const a = run[i]!;
      if (Math.abs(a[1] - y) < 0.001 && Math.abs(b[1] - y) < 0.001)
        flat.push([Math.min(a[0], b[0]), Math.max(a[0], b[0])]);
    });
  flat.sort((p, q) => p[0] - q[0]);
  const joined: Point[] = [];
  for (const [from, to] of flat) {
    const last = joined.at(-1);
    if (last && from <= last[1] + 0.001) joined[joined.length - 1] = [last[0], Math.max(last[1], to)];
    else joined.push([from, to]);
  }
  return joined;
}

/** Areas of the field that a line of this width shuts off, in squares of the height; the outside is left out. */
function shutIn(glyph: Glyph, line: number): number[] {
  const [px, room] = [200, 0.2];
  const [wide, tall] = [Math.ceil((glyph.advance + 2 * room) * px), Math.ceil((1.4 + 2 * room) * px)];
  const d = runs(glyph)
    .map((run) => `M${run.map(([x, y]) => `${(x + room) * px} ${(1.1 + room - y) * px}`).join('L')}`)
    .join('');
  const page = `<svg xmlns="http://www.w3.org/2000/svg" width="${wide}" height="${tall}"><rect width="${wide}" height="${tall}" fill="#fff"/><path d="${d}" fill="none" stroke="#000" stroke-width="${line * px}" stroke-linecap="round" stroke-linejoin="round"/></svg>`;
  const { pixels } = new Resvg(page).render();
  const seen = Array.from({ length: wide * tall }, (_, i) => pixels[4 * i]! < 128);
  const areas: number[] = [];
  for (let start = 0; start < seen.length; start++) {
    if (seen[start]) continue;
    const stack = [start];
    seen[start] = true;
    let area = 0;
    for (let at = stack.pop(); at !== undefined; at = stack.pop()) {
      area++;
      const x = at % wide;
      const next = [x > 0 ? at - 1 : -1, x < wide - 1 ? at + 1 : -1, at - wide, at + wide];
      for (const n of next)
        if (n >= 0 && n < seen.length && !seen[n]) {
          seen[n] = true;
          stack.push(n);
        }
    }
    areas.push(area / px ** 2);
  }
  // The first found is the outside, from the corner of the page.
  return areas.slice(1);
}

const CAPITALS = [...'ABCDEFGHIJKLMNOPQRSTUVWXYZ'];
const SMALL = [...'abcdefghijklmnopqrstuvwxyz'];
const DIGITS = [...'0123456789'];

describe('serifs', () => {
  // How long a serif is, and where one stands, is common practice, no source.
  it('end every stem of the capitals, at the head and at the foot', () => {
    const ends: Readonly<Record<string, readonly [foot: number, head: number]>> = {
      A: [2, 0],
      F: [1, 1],
      H: [2, 2],
      I: [1, 1],
      K: [2, 2],
      M: [2, 2],
      N: [1, 2],
      P: [1, 1],
      R: [2, 1],
      T: [1, 1],
      U: [0, 2],
      V: [0, 2],
      W: [0, 2],
      X: [2, 2],
      Y: [1, 2],
    };
    for (const [c, [foot, head]] of Object.entries(ends)) {
      expect(levels(glyphOf(c), 0).length, `${c} at the foot`).toBe(foot);
      expect(levels(glyphOf(c), 1).length, `${c} at the head`).toBe(head);
    }
  });

  it('end every stem of the small letters at the foot', () => {
    const feet = { f: 1, h: 2, i: 1, k: 2, l: 1, m: 3, n: 2, r: 1, x: 2, ı: 1, ĸ: 2 };
    for (const [c, count] of Object.entries(feet)) expect(levels(glyphOf(c), 0).length, c).toBe(count);
    for (const c of 'pqþ') expect(levels(glyphOf(c), -0.3).length, c).toBe(1);
  });

  it('are a tenth to a sixth of the height long, and a little more on a slant', () => {
    const lengths = (chars: string, y: number): number[] =>
      [...chars].flatMap((c) => levels(glyphOf(c), y).map(([from, to]) => to - from));
    const upright = [...lengths('HI', 0), ...lengths('HIU', 1), ...lengths('hilmnr', 0)];
    const slanting = [...lengths('AX', 0), ...lengths('VWXY', 1), ...lengths('vwxy', 0.66)];
    expect(Math.min(...upright, ...slanting)).toBeGreaterThanOrEqual(0.1);
    expect(Math.max(...upright)).toBeLessThan(1 / 6);
    expect(Math.max(...slanting)).toBeLessThan(0.18);
  });
});

describe('proportions', () => {
  // Square, three quarters and half: the widths of the Roman inscriptional capitals. Common practice, no source.
  it('set round capitals and M wide, B E F L P R S narrow', () => {
    const width = (c: string): number => bounds(glyphOf(c)).width;
    for (const c of 'OQCDGM') expect(width(c), c).toBeGreaterThan(0.75);
    for (const c of 'BEFLPS') expect(width(c), c).toBeLessThan(0.65);
    for (const c of 'AHNTUVXY') {
      expect(width(c), c).toBeGreaterThan(Math.max(...[...'BEFLPS'].map(width)));
      expect(width(c), c).toBeLessThan(width('O') + 0.03);
    }
  });

  it('stand exactly as high as their path says, with no overshoot', () => {
    for (const c of [...CAPITALS, ...DIGITS]) {
      const { head, foot } = bounds(glyphOf(c));
      expect(head, c).toBeCloseTo(1, 4);
      if (!'JQ'.includes(c)) expect(foot, c).toBeCloseTo(0, 4);
    }
    for (const c of 'acegmnorsuvwxz') expect(bounds(glyphOf(c)).head, c).toBeCloseTo(0.66, 4);
  });

  it('keep old-style digits level with the small letters and their tails', () => {
    for (const c of '012') {
      expect(bounds(glyphOf(c, 'old-style')).head, c).toBeCloseTo(0.66, 4);
      expect(bounds(glyphOf(c, 'old-style')).foot, c).toBeCloseTo(0, 4);
    }
    for (const c of '34579') {
      expect(bounds(glyphOf(c, 'old-style')).head, c).toBeCloseTo(0.66, 4);
      expect(bounds(glyphOf(c, 'old-style')).foot, c).toBeCloseTo(-0.3, 4);
    }
  });
});

describe('cut at 1.2 mm with a line of 0.12 mm', () => {
  const LINE = 0.12 / 1.2;

  it('shuts in just the counters a letter has, even a quarter wider, and leaves them open', () => {
    const two = [...'Bg8'];
    const one = [...'ADOPQRabdeopq4690'];
    for (const c of [...CAPITALS, ...SMALL, ...DIGITS, ...'ÆŒæœßÞþðŋŊſØø']) {
      const counters = shutIn(glyphOf(c), 1.25 * LINE);
      const more = { Æ: 1, Œ: 1, æ: 2, œ: 2, Þ: 1, þ: 1, ð: 1, Ø: 2, ø: 2 }[c];
      const expected = more ?? (two.includes(c) ? 2 : one.includes(c) ? 1 : 0);
      expect(counters.length, c).toBe(expected);
      // The least counter still takes a spot as wide as the line.
      if (expected > 0) expect(Math.min(...counters), c).toBeGreaterThan(LINE ** 2);
    }
  });

  it('leaves a line of clear ground between any two letters, kerned', () => {
    const chars = [...CAPITALS, ...SMALL, ...DIGITS, '&'];
    const clouds = new Map(chars.map((c) => [c, cloud(glyphOf(c))]));
    const near: string[] = [];
    for (const a of chars)
      for (const b of chars) {
        const shift = glyphOf(a).advance + font.kern(glyphOf(a), glyphOf(b));
        const [p, q] = [
          clouds.get(a)!.filter(([x]) => x > shift - 0.5),
          clouds.get(b)!.filter(([x]) => x < 0.5),
        ];
        const touch = p.some(([x, y]) =>
          q.some(([u, v]) => Math.hypot(x - u - shift, y - v) < 2 * LINE - 0.001),
        );
        if (touch) near.push(a + b);
      }
    expect(near).toEqual([]);
  });
});

describe('curves', () => {
  it('run on without a corner, but where one is meant', () => {
    // e turns off its bar, 3, ß and ẞ at the waist, 5 into its bowl, G up its stem, dots from their middles.
    const meant = [...'G35eijßẞ'].sort();
    const sharp = [...CAPITALS, ...SMALL, ...DIGITS, ...'ßẞÞþðŋŊſ&'].filter((c) => corners(c) > 0).sort();
    expect(sharp).toEqual(meant);
  });
});

/** Sharp turns of a glyph next to a curve, counted in the text of the file. */
function corners(c: string): number {
  const written = c === '&' ? '&#x26;' : c;
  const line = text.split('\n').find((l) => l.startsWith(`<glyph unicode="${written}" `))!;
  const data = / d="([^"]*)"/.exec(line)![1]!;
  let [count, at, heading, curved] = [0, [0, 0] as Point, undefined as number | undefined, false];
  for (const [, command, rest] of data.matchAll(/([MLCZ])([^MLCZ]*)/g)) {
    const n = (rest!.match(/-?\d+(\.\d+)?/g) ?? []).map(Number);
    if (command === 'Z') continue;
    const to: Point = [n.at(-2)!, n.at(-1)!];
    const [out, back] =
      command === 'C'
        ? [
            [n[0]!, n[1]!],
            [n[2]!, n[3]!],
          ]
        : [to, at];
    const leaving = Math.atan2(out![1]! - at[1], out![0]! - at[0]);
    const turn = heading === undefined ? 0 : Math.abs(Math.sin((leaving - heading) / 2)) * 2;
    if (command !== 'M' && turn > 0.02 && (curved || command === 'C')) count++;
    heading = command === 'M' ? undefined : Math.atan2(to[1] - back![1]!, to[0] - back![0]!);
    curved = command === 'C';
    at = to;
  }
  return count;
}
