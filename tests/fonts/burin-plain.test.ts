import { readFileSync } from 'node:fs';
import { JSDOM } from 'jsdom';
import { describe, expect, it } from 'vitest';
import { plain } from '../../fonts/source/plain.js';
import { writeFont } from '../../fonts/source/write-font.js';
import { writeSpecimen } from '../../fonts/source/write-specimen.js';

const committed = (path: string): string => readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8');
const text = committed('fonts/burin-plain.svg');

type Point = [number, number];
/** One segment; a straight one has its handles on its ends. */
interface Segment {
  straight: boolean;
  points: [Point, Point, Point, Point];
}
interface Path {
  segments: Segment[];
  closed: boolean;
}
interface Shape {
  char: string;
  name: string;
  advance: number;
  data: string;
  paths: Path[];
}

// The file is read here on its own terms, with nothing of the source that wrote it.
function pathsOf(data: string): Path[] {
  const paths: Path[] = [];
  let at: Point = [0, 0];
  let start: Point = [0, 0];
  for (const [, command, rest] of data.matchAll(/([MLCZ])([^MLCZ]*)/g)) {
    const n = (rest!.match(/-?\d+(\.\d+)?/g) ?? []).map(Number);
    const path = paths.at(-1)!;
    if (command === 'M') {
      at = [n[0]!, n[1]!];
      start = at;
      paths.push({ segments: [], closed: false });
    } else if (command === 'C') {
      const to: Point = [n[4]!, n[5]!];
      path.segments.push({ straight: false, points: [at, [n[0]!, n[1]!], [n[2]!, n[3]!], to] });
      at = to;
    } else {
      const to: Point = command === 'Z' ? start : [n[0]!, n[1]!];
      const home = command === 'Z' && to[0] === at[0] && to[1] === at[1];
      if (!home) path.segments.push({ straight: true, points: [at, at, to, to] });
      if (command === 'Z') path.closed = true;
      at = to;
    }
  }
  return paths;
}

const page = new JSDOM(text, { contentType: 'image/svg+xml' }).window.document;
const shapes: Shape[] = [...page.querySelectorAll('glyph[unicode]')].map((g) => ({
  char: g.getAttribute('unicode')!,
  name: g.getAttribute('glyph-name')!,
  advance: Number(g.getAttribute('horiz-adv-x')),
  data: g.getAttribute('d') ?? '',
  paths: pathsOf(g.getAttribute('d') ?? ''),
}));
const drawn = shapes.filter((shape) => shape.data !== '');
const byChar = new Map(shapes.map((shape) => [shape.char, shape]));
const listed = (text: string): string[] => (text.length === 1 ? [text] : text.split(','));
const kerns = [...page.querySelectorAll('hkern')].flatMap((k) =>
  listed(k.getAttribute('u1')!).flatMap((left) =>
    listed(k.getAttribute('u2')!).map((right) => ({ left, right, tighter: Number(k.getAttribute('k')) })),
  ),
);

const along = ({ points: [a, b, c, d] }: Segment, t: number): Point => {
  const s = 1 - t;
  const mix = (i: 0 | 1): number =>
    s ** 3 * a[i] + 3 * s * s * t * b[i] + 3 * s * t * t * c[i] + t ** 3 * d[i];
  return [mix(0), mix(1)];
};
const STEPS = 24;
const trace = (path: Path): Point[] =>
  path.segments.flatMap((s) =>
    Array.from({ length: STEPS + 1 }, (_, i) =>
      s.straight ? ([...lerp(s, i / STEPS)] as Point) : along(s, i / STEPS),
    ),
  );
const lerp = ({ points: [a, , , d] }: Segment, t: number): Point => [
  a[0] + (d[0] - a[0]) * t,
  a[1] + (d[1] - a[1]) * t,
];
const cloud = (shape: Shape): Point[] => shape.paths.flatMap(trace);
const clouds = new Map(drawn.map((shape) => [shape.char, cloud(shape)]));
const bounds = (char: string) => {
  const points = clouds.get(char)!;
  const [xs, ys] = [points.map((p) => p[0]), points.map((p) => p[1])];
  return { left: Math.min(...xs), right: Math.max(...xs), foot: Math.min(...ys), head: Math.max(...ys) };
};
const apart = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1]);

/** The direction a segment leaves its start in, and the one it reaches its end in. */
const leaving = ({ points: [a, b, , d], straight }: Segment): number => angle(a, straight ? d : b);
const arriving = ({ points: [a, , c, d], straight }: Segment): number => angle(straight ? a : c, d);
const angle = (a: Point, b: Point): number => (Math.atan2(b[1] - a[1], b[0] - a[0]) * 180) / Math.PI;
const between = (a: number, b: number): number => Math.abs(((((b - a) % 360) + 540) % 360) - 180);

const joints = (path: Path): [Segment, Segment][] => {
  const pairs = path.segments.slice(1).map((s, i): [Segment, Segment] => [path.segments[i]!, s]);
  return path.closed ? [...pairs, [path.segments.at(-1)!, path.segments[0]!]] : pairs;
};

const CAPITALS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ';
const SMALL = 'abcdefghijklmnopqrstuvwxyz';
const DIGITS = '0123456789';
const SIGNS = '.,:;!?\'"-–—()[]/&+=%*#@_·•…‘’“”°№⁄×º';
const WESTERN = 'ÀÁÂÃÄÅÇÈÉÊËÌÍÎÏÑÒÓÔÕÖÙÚÛÜÝàáâãäåçèéêëìíîïñòóôõöùúûüýÿ';

describe('the committed files', () => {
  it('are what the drawing source writes', () => {
    expect(text).toBe(writeFont(plain));
    expect(committed('docs/lettering/burin-plain.svg')).toBe(writeSpecimen(plain));
  });

  it('cover letters, digits, signs and the accented Western letters, each once', () => {
    const missing = [...` \u00a0${CAPITALS}${SMALL}${DIGITS}${SIGNS}${WESTERN}`].filter(
      (c) => !byChar.has(c),
    );
    expect(missing).toEqual([]);
    expect(byChar.size).toBe(shapes.length);
    expect(new Set(shapes.filter((s) => s.char !== '\u00a0').map((s) => s.name)).size).toBe(
      shapes.length - 1,
    );
  });

  it('hold only absolute M, L, C and Z with plain numbers', () => {
    const number = '-?\\d+(\\.\\d)?';
    const pair = `${number} ${number}`;
    const path = new RegExp(`^(M${pair}(L${pair}|C${pair} ${pair} ${pair})+Z?)+$`);
    const missing = page.querySelector('missing-glyph')!.getAttribute('d')!;
    expect([...drawn.map((s) => s.data), missing].filter((d) => !path.test(d))).toEqual([]);
  });
});

describe('every glyph of Burin Plain', () => {
  it('stays inside its advance, and its strokes between tail and ascender', () => {
    const tall = /[A-Zbdfhklt]/;
    const out = drawn.filter((s) => {
      const b = bounds(s.char);
      // Capitals' marks may rise by the 4/10 h the standard keeps for them; small letters' by half of that.
      const marked = s.char.normalize('NFD').length > 1;
      const ceiling = !marked ? 1060 : tall.test(s.char.normalize('NFD')) ? 1400 : 1060;
      return b.left < 0 || b.right > s.advance || b.foot < -300.01 || b.head > ceiling + 0.01;
    });
    expect(out.map((s) => s.char)).toEqual([]);
  });

  it('keeps half the character gap clear at both sides, but for the few drawn to reach', () => {
    // The fraction slash hangs between its digits; marks outreach an i.
    const reaching = new Set('⁄ÎÏîïìíÌÍ');
    const own = drawn.filter((s) => `${CAPITALS}${SMALL}${DIGITS}${SIGNS}${WESTERN}`.includes(s.char));
    const tight = own.filter((s) => {
      const b = bounds(s.char);
      return !reaching.has(s.char) && Math.min(b.left, s.advance - b.right) < 100 - 0.01;
    });
    expect(tight.map((s) => s.char)).toEqual([]);
  });

  it('has no empty stroke and no segment without length', () => {
    const bad = drawn.filter((s) =>
      s.paths.some(
        (p) =>
          p.segments.length === 0 ||
          p.segments.some(({ points: [a, b, c, d], straight }) =>
            straight ? apart(a, d) < 10 : apart(a, d) < 10 || apart(a, b) < 5 || apart(c, d) < 5,
          ),
      ),
    );
    expect(bad.map((s) => s.char)).toEqual([]);
  });

  it('runs smoothly wherever a curve meets anything, save at the corners meant', () => {
    // e turns off its bar, 3 at its waist, 5 into its bowl, a dot from its middle to its rim, a cedilla off its stem.
    const meant = new Set('e35ij.:;!?·•…{}¡£¿ßẞœæ÷');
    // What a composed letter or fraction is made of turns where its parts do, and every dot from its middle.
    const mayTurn = (c: string): boolean =>
      [...`${c}${c.normalize('NFKD')}`].some(
        (part) => meant.has(part) || '\u0307\u0308\u0327'.includes(part),
      );
    const sharp = drawn.filter((s) =>
      s.paths.some((p) =>
        joints(p).some(([a, b]) => !(a.straight && b.straight) && between(arriving(a), leaving(b)) > 1),
      ),
    );
    expect(sharp.map((s) => s.char).filter((c) => !mayTurn(c))).toEqual([]);
    expect([...meant].filter((c) => !sharp.some((s) => s.char === c))).toEqual([]);
  });

  it('draws no bend out of short lines', () => {
    const faceted = drawn.filter((s) =>
      s.paths.some((p) =>
        joints(p).some(([a, b]) => a.straight && b.straight && between(arriving(a), leaving(b)) < 30),
      ),
    );
    expect(faceted.map((s) => s.char)).toEqual([]);
  });

  it('joins strokes exactly where they touch', () => {
    const loose: string[] = [];
    // Small ones are their letters drawn smaller, gaps and all.
    for (const s of drawn.filter((one) => one.char.normalize('NFKD') === one.char.normalize('NFD'))) {
      s.paths.forEach((p, i) => {
        if (p.closed) return;
        const others = s.paths.filter((_, j) => j !== i).flatMap((q) => fine(q));
        for (const end of [p.segments[0]!.points[0], p.segments.at(-1)!.points[3]]) {
          const nearest = Math.min(Infinity, ...others.map((o) => apart(o, end)));
          if (nearest > 0.6 && nearest < 60)
            loose.push(`${s.char} at ${end.join(' ')}: ${nearest.toFixed(1)}`);
        }
      });
    }
    expect(loose).toEqual([]);
  });

  it('lifts the cutter no more than it must', () => {
    const cuts = (chars: string): number[] => [...chars].map((c) => byChar.get(c)!.paths.length);
    expect(cuts('CDGIJLMNOSUVWZ')).toEqual(Array(14).fill(1));
    expect(cuts('closvwz')).toEqual(Array(7).fill(1));
    expect(cuts(DIGITS)).toEqual(Array(10).fill(1));
    expect(Math.max(...cuts('ABPQRTXY'))).toBe(2);
    expect(Math.max(...cuts(CAPITALS + SMALL))).toBe(3);
  });
});

/** Dense enough that a point on the stroke is found within half a unit. */
function fine(path: Path): Point[] {
  return path.segments.flatMap((s) => {
    const steps = Math.ceil(apart(s.points[0], s.points[3]) * 2) + 100;
    return Array.from({ length: steps + 1 }, (_, i) =>
      s.straight ? lerp(s, i / steps) : along(s, i / steps),
    );
  });
}

describe('letters that must not be taken for one another', () => {
  it('sets all digits on one advance, whatever their shape', () => {
    expect(new Set([...DIGITS].map((c) => byChar.get(c)!.advance)).size).toBe(1);
    expect(kerns.filter((k) => DIGITS.includes(k.left) || DIGITS.includes(k.right))).toEqual([]);
  });

  it('keeps nought much narrower than O, and 1, I and l each its own shape', () => {
    const width = (c: string): number => bounds(c).right - bounds(c).left;
    expect(width('0')).toBeLessThan(width('O') * 0.7);
    expect(width('I')).toBe(0);
    expect(bounds('1').left).toBeLessThan(bounds('1').right - 150);
    const tail = cloud(byChar.get('l')!).filter((p) => p[1] < 1);
    expect(Math.max(...tail.map((p) => p[0])) - bounds('l').left).toBeGreaterThan(150);
  });
});

describe('spacing', () => {
  const letters = `${CAPITALS}${SMALL}${DIGITS}`;
  const tighter = new Map(kerns.map((k) => [k.left + k.right, k.tighter]));
  const nearest = (left: string, right: string): number => {
    const shift = byChar.get(left)!.advance - (tighter.get(left + right) ?? 0);
    let best = Infinity;
    for (const a of clouds.get(left)!) {
      for (const b of clouds.get(right)!) {
        const d = (a[0] - b[0] - shift) ** 2 + (a[1] - b[1]) ** 2;
        if (d < best) best = d;
      }
    }
    return Math.sqrt(best);
  };

  it('kerns pairs the font has, each once', () => {
    expect(kerns.filter((k) => !byChar.has(k.left) || !byChar.has(k.right) || k.tighter <= 0)).toEqual([]);
    expect(tighter.size).toBe(kerns.length);
    for (const pair of ['AV', 'VA', 'LT', 'TA', 'AT', 'LY', 'P.']) {
      expect(tighter.get(pair), pair).toBeGreaterThan(0);
    }
  });

  it('never brings two strokes of neighbours nearer than half the gap, one line width clear', () => {
    const close: string[] = [];
    const pairs = [...letters].flatMap((a) => [...letters].map((b) => a + b));
    for (const pair of new Set([...pairs, ...tighter.keys()])) {
      const [a, b] = [...pair] as [string, string];
      const d = nearest(a, b);
      // The strokes are sampled, so the nearest found may lie a little off the true one, never under it.
      // A fraction's digits are drawn in under its slash, still more than half a line width clear.
      if (d < (pair.includes('⁄') ? 160 : 199.5)) close.push(`${pair} ${d.toFixed(0)}`);
    }
    expect(close).toEqual([]);
  });
});
