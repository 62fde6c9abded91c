import { type Glyph, letter } from './glyph.js';
import { CAP, DOT, TAIL, X_HEIGHT } from './metrics.js';
import { bar, east, mirror, north, oval, pen, type Stroke, south, spot, translate, west } from './pen.js';

/** Small rounds are narrower than the capitals', so they are made fuller still to keep their tops from peaking. */
const FULL = 1.08;

/** The dot of i and j sits with its top level with the capitals' upper third. */
const DOT_HEIGHT = 940;

/**
 * The bowl that leans on a stem at x = 0: it leaves the stem at an angle rather than along it, so that the cutter
 * never runs twice down the same edge.
 */
const bowl: Stroke = pen(0, 545, 62)
  .curve(225, X_HEIGHT, east)
  .curve(430, 350, south, FULL)
  .curve(225, 0, west, FULL)
  .curve(0, 155, 118)
  .end();

/** Arch of n, h, m: out of the stem, over and down. In m the shoulder is high, to give the next arch a stem. */
const arch = (from: number, to: number, shoulder = 480): Stroke =>
  pen(from, 535, 63)
    .curve(from + (to - from) * 0.53, X_HEIGHT, east)
    .curve(to, shoulder, south, FULL)
    .line(to, 0)
    .end();

const dot = (x: number): Stroke => spot(x, DOT_HEIGHT, DOT);

const above = (x: number) => ({ top: [x, X_HEIGHT] as const, bottom: [x, 0] as const });
const tall = (x: number, foot = x) => ({ top: [x, CAP] as const, bottom: [foot, 0] as const });

export const dotlessI: Glyph = letter(
  'dotlessi',
  'ı',
  'straight',
  'straight',
  [bar(0, X_HEIGHT, 0, 0)],
  above(0),
);

export const lower: readonly Glyph[] = [
  letter(
    'a',
    'a',
    'round',
    'straight',
    [
      pen(50, 590, 62).curve(205, X_HEIGHT, east).curve(390, 500, south, FULL).line(390, 0).end(),
      pen(390, 410)
        .line(195, 410)
        .curve(0, 205, south, FULL)
        .curve(185, 0, east, FULL)
        .curve(390, 150, 62)
        .end(),
    ],
    above(205),
  ),
  letter('b', 'b', 'straight', 'round', [bar(0, CAP, 0, 0), bowl], tall(0, 215)),
  letter(
    'c',
    'c',
    'round',
    'open',
    [
      pen(372, 596, 121)
        .curve(218, X_HEIGHT, west)
        .curve(0, 350, south, FULL)
        .curve(218, 0, east, FULL)
        .curve(372, 104, 59)
        .end(),
    ],
    above(218),
  ),
  letter('d', 'd', 'round', 'straight', [bar(430, CAP, 430, 0), ...mirror([bowl], 215)], tall(430, 215)),
  letter(
    'e',
    'e',
    'round',
    'round',
    [
      pen(0, 360)
        .line(430, 360)
        .corner(north)
        .curve(218, X_HEIGHT, west, FULL)
        .curve(0, 360, south, FULL)
        .curve(225, 0, east, FULL)
        .curve(405, 100, 54)
        .end(),
    ],
    above(218),
  ),
  letter('f', 'f', 'open', 'open', [
    pen(350, 975, 155).curve(265, CAP, west).curve(120, 830, south, FULL).line(120, 0).end(),
    bar(0, X_HEIGHT, 300, X_HEIGHT),
  ]),
  letter(
    'g',
    'g',
    'round',
    'straight',
    [
      pen(430, X_HEIGHT).line(430, -90).curve(215, TAIL, west, FULL).curve(25, -215, 133).end(),
      ...mirror([bowl], 215),
    ],
    { top: [215, X_HEIGHT], bottom: [215, TAIL] },
  ),
  letter('h', 'h', 'straight', 'straight', [bar(0, CAP, 0, 0), arch(0, 400)], tall(0, 200)),
  letter('i', 'i', 'straight', 'straight', [bar(0, X_HEIGHT, 0, 0), dot(0)], { bottom: [0, 0] }),
  letter('j', 'j', 'open', 'straight', [
    pen(140, X_HEIGHT).line(140, -140).curve(0, TAIL, west, FULL).end(),
    dot(140),
  ]),
  letter(
    'k',
    'k',
    'straight',
    'open',
    [bar(0, CAP, 0, 0), bar(360, X_HEIGHT, 0, 250), bar(120, 400, 400, 0)],
    tall(0, 200),
  ),
  letter(
    'l',
    'l',
    'straight',
    'open',
    [pen(0, CAP).line(0, 170).curve(150, 0, east, FULL).line(190, 0).end()],
    tall(0, 80),
  ),
  letter(
    'm',
    'm',
    'straight',
    'straight',
    [bar(0, X_HEIGHT, 0, 0), arch(0, 350, 535), ...translate([arch(0, 350, 535)], 350, 0)],
    above(350),
  ),
  letter('n', 'n', 'straight', 'straight', [bar(0, X_HEIGHT, 0, 0), arch(0, 400)], above(200)),
  letter('o', 'o', 'round', 'round', [oval(225, 350, 225, 350, FULL)], above(225)),
  letter('p', 'p', 'straight', 'round', [bar(0, X_HEIGHT, 0, TAIL), bowl], above(215)),
  letter('q', 'q', 'round', 'straight', [bar(430, X_HEIGHT, 430, TAIL), ...mirror([bowl], 215)], above(215)),
  letter(
    'r',
    'r',
    'straight',
    'open',
    [bar(0, X_HEIGHT, 0, 0), pen(0, 535, 63).curve(195, X_HEIGHT, east).curve(290, 673, 328).end()],
    above(130),
  ),
  letter(
    's',
    's',
    'round',
    'round',
    [
      pen(345, 600, 122)
        .curve(185, X_HEIGHT, west)
        .curve(20, 530, south)
        .sway(185, 358, 340, 82, 115)
        .sway(365, 178, south, 130, 81)
        .curve(178, 0, west)
        .curve(0, 108, 120)
        .end(),
    ],
    above(185),
  ),
  letter(
    't',
    't',
    'open',
    'open',
    [
      pen(120, 900).line(120, 170).curve(265, 0, east, FULL).curve(335, 18, 24).end(),
      bar(0, X_HEIGHT, 310, X_HEIGHT),
    ],
    tall(120, 265),
  ),
  letter(
    'u',
    'u',
    'straight',
    'straight',
    [
      pen(0, X_HEIGHT).line(0, 220).curve(188, 0, east, FULL).curve(400, 165, 63).end(),
      bar(400, X_HEIGHT, 400, 0),
    ],
    above(200),
  ),
  letter('v', 'v', 'open', 'open', [pen(0, X_HEIGHT).line(215, 0).line(430, X_HEIGHT).end()], above(215)),
  letter(
    'w',
    'w',
    'open',
    'open',
    [pen(0, X_HEIGHT).line(175, 0).line(350, X_HEIGHT).line(525, 0).line(700, X_HEIGHT).end()],
    above(350),
  ),
  letter('x', 'x', 'open', 'open', [bar(10, X_HEIGHT, 410, 0), bar(400, X_HEIGHT, 0, 0)], above(205)),
  letter('y', 'y', 'open', 'open', [bar(0, X_HEIGHT, 210, 0), bar(420, X_HEIGHT, 120, TAIL)], above(210)),
  letter(
    'z',
    'z',
    'open',
    'open',
    [pen(10, X_HEIGHT).line(375, X_HEIGHT).line(0, 0).line(385, 0).end()],
    above(190),
  ),
];
