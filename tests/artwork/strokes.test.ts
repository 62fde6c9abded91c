import { describe, expect, it } from 'vitest';
import { outlines } from '../../src/artwork/svg/outlines.js';
import { readSvg } from '../../src/artwork/svg/read-svg.js';
import { lineOf } from '../words-of.js';
import { exactArea } from './measure.js';

const MM = 25.4 / 96;

/** The area of a drawing of 200 by 200 px, px2, with its strokes as outlines. */
function inked(inner: string): number {
  const read = readSvg(
    `<svg xmlns="http://www.w3.org/2000/svg" width="200" height="200"><g fill="none" stroke="black">${inner}</g></svg>`,
    'art.svg',
  );
  if (!read.ok) throw new Error(lineOf(read.problem));
  return exactArea(outlines(read.drawing, 'outline').areas) / MM / MM;
}

const line = (more: string) => `<path d="M50 100H150" stroke-width="20" ${more}/>`;
/** Two sides of 80 that meet at an angle, their outer corner to the right. */
const corner = (degrees: number, more: string) => {
  const a = (degrees * Math.PI) / 360;
  const [x, y] = [100 - 80 * Math.cos(a), 80 * Math.sin(a)];
  return `<path d="M${x} ${100 - y}L100 100L${x} ${100 + y}" stroke-width="10" ${more}/>`;
};
/** Two bands of 80 by 10 at an angle overlap in a kite of two right triangles; what is over it is the join's. */
const bands = (degrees: number) => 2 * 80 * 10 - 25 / Math.tan((degrees * Math.PI) / 360);
/** The corner without a join is a kite of legs 5 whose angle is that of the turn: its triangle, and the rest to the point. */
const turn = (degrees: number) => Math.PI - (degrees * Math.PI) / 180;

/** Areas by plane geometry, from the rules of SVG 2, 13.5: px2. */
const CASES: readonly (readonly [name: string, inner: string, area: number])[] = [
  ['a line, butt caps', line(''), 2000],
  ['a line, round caps', line('stroke-linecap="round"'), 2000 + Math.PI * 100],
  ['a line, square caps', line('stroke-linecap="square"'), 2000 + 400],
  ['dashes', line('stroke-dasharray="10 5"'), 20 * 70],
  ['dashes, an odd list', line('stroke-dasharray="10"'), 20 * 50],
  ['dashes, from within', line('stroke-dasharray="10 5" stroke-dashoffset="5"'), 20 * 65],
  ['dashes, round caps', line('stroke-dasharray="10 40" stroke-linecap="round"'), 2 * (200 + Math.PI * 100)],
  ['a dot, round caps', '<path d="M50 50h0" stroke-width="20" stroke-linecap="round"/>', Math.PI * 100],
  ['a dot, square caps', '<path d="M50 50z" stroke-width="20" stroke-linecap="square"/>', 400],
  ['a dot, butt caps', '<path d="M50 50h0" stroke-width="20"/>', 0],
  ['a move alone', '<path d="M50 50" stroke-width="20" stroke-linecap="round"/>', 0],
  [
    'dots along a line',
    '<path d="M10 50h90" stroke-width="10" stroke-linecap="round" stroke-dasharray="0 20"/>',
    5 * Math.PI * 25,
  ],
  ['a circle', '<circle cx="100" cy="100" r="50" stroke-width="10"/>', 2 * Math.PI * 50 * 10],
  ['a circle narrower than its pen', '<circle cx="100" cy="100" r="5" stroke-width="30"/>', Math.PI * 400],
  ['a square, miter', '<rect x="50" y="50" width="80" height="80" stroke-width="10"/>', 90 ** 2 - 70 ** 2],
  [
    'a square, round',
    '<rect x="50" y="50" width="80" height="80" stroke-width="10" stroke-linejoin="round"/>',
    90 ** 2 - 70 ** 2 - (4 - Math.PI) * 25,
  ],
  [
    'a square, bevel',
    '<rect x="50" y="50" width="80" height="80" stroke-width="10" stroke-linejoin="bevel"/>',
    90 ** 2 - 70 ** 2 - 50,
  ],
  ...[60, 90, 120].flatMap((degrees): [string, string, number][] => [
    [`a corner of ${degrees}, miter`, corner(degrees, ''), bands(degrees) + 25 * Math.tan(turn(degrees) / 2)],
    [
      `a corner of ${degrees}, round`,
      corner(degrees, 'stroke-linejoin="round"'),
      bands(degrees) + (25 * turn(degrees)) / 2,
    ],
    [
      `a corner of ${degrees}, bevel`,
      corner(degrees, 'stroke-linejoin="bevel"'),
      bands(degrees) + (25 * Math.sin(turn(degrees))) / 2,
    ],
  ]),
  // The miter of 20 degrees is 1 / sin 10 = 5.76 widths long: beyond 4, so a bevel; within 6.
  ['a sharp corner beyond the limit', corner(20, ''), bands(20) + (25 * Math.sin(turn(20))) / 2],
  [
    'a sharp corner within its limit',
    corner(20, 'stroke-miterlimit="6"'),
    bands(20) + 25 * Math.tan(turn(20) / 2),
  ],
  [
    'a pen that is stretched',
    '<g transform="scale(2 1)"><path d="M50 100V50" stroke-width="10"/><path d="M20 150H70" stroke-width="10"/></g>',
    20 * 50 + 100 * 10,
  ],
  [
    'a pen that is skewed',
    '<g transform="skewX(30)"><circle cx="20" cy="100" r="15" stroke-width="4"/></g>',
    2 * Math.PI * 15 * 4,
  ],
  ['strokes that cross', '<path d="M50 100H150M100 50V150" stroke-width="10"/>', 2 * 1000 - 100],
  [
    'a stroke over its fill',
    '<circle fill="red" cx="100" cy="100" r="40" stroke-width="20"/>',
    Math.PI * 2500,
  ],
  ['a stroke of no width', line('style="stroke-width:0"'), 0],
  [
    'a stroke cut by a clip',
    `<clipPath id="c"><rect x="60" y="95" width="50" height="40"/></clipPath><g clip-path="url(#c)">${line('')}</g>`,
    50 * 15,
  ],
  [
    'a fill cut by a box of its own box',
    '<clipPath id="c" clipPathUnits="objectBoundingBox"><rect width=".5" height=".25"/></clipPath><rect fill="red" stroke="none" x="20" y="30" width="80" height="60" clip-path="url(#c)"/>',
    40 * 15,
  ],
  [
    'a fill cut by two clips',
    '<clipPath id="a"><circle cx="100" cy="100" r="50"/></clipPath><clipPath id="b" clip-path="url(#a)"><rect x="100" y="0" width="100" height="200"/></clipPath><rect fill="red" stroke="none" width="200" height="200" clip-path="url(#b)"/>',
    (Math.PI * 2500) / 2,
  ],
  [
    'a clip by even and odd',
    '<clipPath id="a"><path clip-rule="evenodd" d="M0 0h100v100h-100zM20 20h50v50h-50z"/></clipPath><rect fill="red" stroke="none" width="60" height="60" clip-path="url(#a)"/>',
    60 * 60 - 40 * 40,
  ],
  [
    'a fill by even and odd',
    '<path fill="red" stroke="none" fill-rule="evenodd" d="M0 0h100v100h-100zM20 20h50v50h-50z"/>',
    10_000 - 2500,
  ],
  ['a square twice over', '<path fill="red" stroke="none" d="M0 0h50v50h-50zM0 0h50v50h-50z"/>', 2500],
  [
    'a square twice over, by even and odd',
    '<path fill="red" stroke="none" fill-rule="evenodd" d="M0 0h50v50h-50zM0 0h50v50h-50z"/>',
    0,
  ],
  [
    'squares run both ways',
    '<path fill="red" stroke="none" d="M0 0v50h50v-50z"/><path fill="red" stroke="none" d="M60 0h50v50h-50z"/>',
    5000,
  ],
  ['a square and a spur', '<path fill="red" stroke="none" d="M0 0h50v50h-50zM80 80L100 100z"/>', 2500],
  ['a bow', '<path fill="red" stroke="none" d="M0 0L50 50V0L0 50z"/>', 1250],
  [
    'a rule of clips taken from what holds the clip',
    '<g clip-rule="evenodd"><clipPath id="a"><path d="M0 0h100v100h-100zM20 20h50v50h-50z"/></clipPath></g><rect fill="red" stroke="none" width="60" height="60" clip-path="url(#a)"/>',
    60 * 60 - 40 * 40,
  ],
  [
    'a clip by use',
    '<defs><rect id="r" width="10" height="10"/></defs><clipPath id="a"><use href="#r" x="5" y="5"/></clipPath><rect fill="red" stroke="none" width="60" height="60" clip-path="url(#a)"/>',
    100,
  ],
  [
    'a clip fitted to the box of a use',
    '<defs><rect id="r" fill="red" stroke="none" width="10" height="10"/></defs><clipPath id="a" clipPathUnits="objectBoundingBox"><rect width=".25" height="1"/></clipPath><g clip-path="url(#a)"><use href="#r" x="5" y="5"/><use href="#r" x="15" y="5"/></g>',
    50,
  ],
  ['a fill by winding', '<path fill="red" stroke="none" d="M0 0h100v100h-100zM20 20h50v50h-50z"/>', 10_000],
  [
    'what lies outside the viewport',
    '<circle fill="red" stroke="none" cx="0" cy="0" r="50"/>',
    (Math.PI * 2500) / 4,
  ],
];

describe('curves that do not cross', () => {
  const areas = (inner: string) => {
    const read = readSvg(
      `<svg xmlns="http://www.w3.org/2000/svg" width="200" height="200">${inner}</svg>`,
      'art.svg',
    );
    if (!read.ok) throw new Error(lineOf(read.problem));
    return { drawn: read.drawing.paths.map((p) => p.path), cut: outlines(read.drawing, 'leave').areas };
  };

  it.each([
    ['a circle', '<circle cx="50" cy="50" r="30"/>'],
    ['a leaf that is not convex', '<path d="M10 30C10 80 60 90 60 40Q35 50 10 30Z"/>'],
  ])('are cut as drawn, anticlockwise: %s', (_, inner) => {
    const { drawn, cut } = areas(inner);
    expect(cut.filter(([c]) => c === 'C' || c === 'Q')).toHaveLength(
      drawn.flat().filter(([c]) => c === 'C' || c === 'Q').length,
    );
    expect(exactArea(cut)).toBeGreaterThan(0);
    expect(exactArea(cut)).toBeCloseTo(Math.abs(exactArea(drawn.flat())), 9);
  });
});

describe('curves that cross', () => {
  it('are joined as curves', () => {
    const read = readSvg(
      '<svg xmlns="http://www.w3.org/2000/svg" width="200" height="200"><circle cx="50" cy="50" r="30"/><circle cx="80" cy="55" r="25"/></svg>',
      'art.svg',
    );
    if (!read.ok) throw new Error(read.problem.code);
    const { areas } = outlines(read.drawing, 'leave');
    expect(areas.filter(([c]) => c === 'C').length).toBeGreaterThan(10);
    expect(areas.filter(([c]) => c === 'L')).toEqual([]);
  });
});

/** Strokes are polygons within 0.0005 mm of the true edge: so much of their edge's length. */
const BAR = 5e-4;

describe('areas of strokes, fills and clips', () => {
  it.each(CASES)('%s', (_, inner, area) => {
    expect(Math.abs(inked(inner) - area)).toBeLessThanOrEqual(BAR * Math.max(area, 1));
  });
});

describe('dashes', () => {
  const piecesOf = (path: string, more: string): number => {
    const read = readSvg(
      `<svg xmlns="http://www.w3.org/2000/svg" width="100" height="100"><path d="${path}" fill="none" stroke="black" stroke-width="6" ${more}/></svg>`,
      'art.svg',
    );
    if (!read.ok) throw new Error(lineOf(read.problem));
    return outlines(read.drawing, 'outline').areas.filter(([command]) => command === 'M').length;
  };
  const ends = Array.from({ length: 150 }, (_, k) => [11 + ((k * 37) % 83), 13 + ((k * 59) % 79)] as const);
  it('that fill a line just so leave nothing at its end', () => {
    for (const [k, [x, y]] of ends.entries()) {
      const count = 1 + (k % 12);
      const made = piecesOf(`M10 10L${x} ${y}`, `pathLength="${2 * count}" stroke-dasharray="1"`);
      expect([x, y, made]).toEqual([x, y, count]);
    }
  });
  it('that end just at the start of a line leave nothing there', () => {
    for (const [x, y] of ends) {
      const made = piecesOf(
        `M10 10L${x} ${y}`,
        'pathLength="7" stroke-dasharray="0.7" stroke-dashoffset="2.1"',
      );
      expect([x, y, made]).toEqual([x, y, 5]);
    }
  });
});

describe('where SVG 2 is followed and Chromium does otherwise', () => {
  const codesOf = (inner: string): string[] => {
    const read = readSvg(
      `<svg xmlns="http://www.w3.org/2000/svg" width="200" height="200">${inner}</svg>`,
      'art.svg',
    );
    if (!read.ok) throw new Error(lineOf(read.problem));
    return read.remarks.map(({ code }) => code);
  };
  const dots = (cap: string, dashes: string) =>
    `<path d="M10 10L190 190" stroke="black" stroke-width="10" stroke-linecap="${cap}" stroke-dasharray="${dashes}"/>`;
  it('remarks on square dots, which it turns along their line', () => {
    expect(codesOf(dots('square', '0 25'))).toEqual(['artwork.square-dots']);
    for (const [cap, dashes] of [
      ['round', '0 25'],
      ['square', '5 25'],
      ['square', '5 0'],
      ['butt', '0 25'],
    ] as const)
      expect(codesOf(dots(cap, dashes))).toEqual([]);
  });
  it('puts no join into a curve that turns back on itself', () => {
    // A band from x 20 to the greatest x of the curve.
    const area = inked('<path d="M20 50C90 50 90 50 40 50" stroke-width="10"/>');
    const x = (t: number) => 20 * (1 - t) ** 3 + 270 * t * (1 - t) + 40 * t ** 3;
    let farthest = 0;
    for (let t = 0; t <= 1; t += 1e-5) farthest = Math.max(farthest, x(t));
    expect(area).toBeCloseTo(10 * (farthest - 20), 1);
  });
});
