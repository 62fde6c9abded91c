import { type Glyph, letter } from '../glyph.js';
import { CAP, DOT, TAIL } from '../metrics.js';
import { bar, east, mirror, north, oval, pen, type Stroke, south, spot, translate, west } from '../pen.js';
import { beak, flag, foot, toe, X } from './pieces.js';

const FULL = 1.03;
const DOT_HEIGHT = 920;

const above = (x: number, bottom = x) => ({ top: [x, X] as const, bottom: [bottom, 0] as const });
const tall = (x: number, bottom = x) => ({ top: [x, CAP] as const, bottom: [bottom, 0] as const });

/** The bowl that leans on a stem at x = 0. */
export const bowl: Stroke = pen(0, 500, 65)
  .curve(250, X, east)
  .curve(485, X / 2, south, FULL)
  .curve(240, 0, west, FULL)
  .curve(0, 125, 123)
  .end();

const arch = (from: number, to: number): Stroke =>
  pen(from, 475, 66)
    .curve(from + (to - from) * 0.55, X, east)
    .curve(to, 445, south, FULL)
    .line(to, 0)
    .end();

const dot = (x: number): Stroke => spot(x, DOT_HEIGHT, DOT);

export const dotlessI: Glyph = letter(
  'dotlessi',
  'ı',
  'open',
  'open',
  [bar(0, X, 0, 0), flag(0, X), foot(0)],
  above(0),
);

export const dotlessJ: Glyph = letter(
  'dotlessj',
  'ȷ',
  'open',
  'open',
  [pen(140, X).line(140, -90).curve(-40, TAIL, 198, FULL).end(), flag(140, X)],
  { top: [140, X], bottom: [100, 0] },
);

export const lower: readonly Glyph[] = [
  letter(
    'a',
    'a',
    'round',
    'open',
    [
      pen(45, 545, 68)
        .curve(205, X, east)
        .curve(380, 485, south, FULL)
        .line(380, 90)
        .curve(470, 0, east)
        .end(),
      pen(380, 400, 190).curve(0, 170, south, FULL).curve(160, 0, east, FULL).curve(380, 140, 58).end(),
    ],
    above(200),
  ),
  letter('b', 'b', 'open', 'round', [bar(0, CAP, 0, 125), bowl, flag(0, CAP)], tall(0, 240)),
  letter(
    'c',
    'c',
    'round',
    'open',
    [
      pen(415, 575, 138)
        .curve(250, X, west)
        .curve(0, X / 2, south, FULL)
        .curve(250, 0, east, FULL)
        .curve(440, 115, 48)
        .end(),
      beak(415, 575, 0, 85),
    ],
    above(250),
  ),
  letter(
    'd',
    'd',
    'round',
    'open',
    [bar(485, CAP, 485, 0), ...mirror([bowl], 242.5), flag(485, CAP), toe(485)],
    tall(485, 240),
  ),
  letter(
    'e',
    'e',
    'round',
    'round',
    [
      pen(6, 385)
        .line(458, 385)
        .corner(north)
        .curve(240, X, west, FULL)
        .curve(0, 335, south, FULL)
        .curve(250, 0, east, FULL)
        .curve(445, 120, 50)
        .end(),
    ],
    above(240),
  ),
  letter(
    'f',
    'f',
    'open',
    'open',
    [
      pen(385, 935, 130).curve(275, CAP, west).curve(120, 800, south, FULL).line(120, 0).end(),
      bar(0, X, 290, X),
      foot(120),
    ],
    { top: [220, CAP], bottom: [120, 0] },
  ),
  letter(
    'g',
    'g',
    'round',
    'open',
    [
      oval(215, 450, 215, 210, FULL),
      bar(385, 578, 500, 640),
      pen(95, 275, 232)
        .curve(62, 150, 298)
        .curve(200, 82, 358)
        .sway(445, -95, south, 165, 92)
        .curve(215, TAIL, west, FULL)
        .curve(0, -165, north, FULL)
        .curve(108, 100, 58)
        .end(),
    ],
    { top: [215, X], bottom: [215, TAIL] },
  ),
  letter(
    'h',
    'h',
    'open',
    'open',
    [bar(0, CAP, 0, 0), arch(0, 425), flag(0, CAP), foot(0), foot(425)],
    tall(0, 212),
  ),
  letter('i', 'i', 'open', 'open', [bar(0, X, 0, 0), flag(0, X), foot(0), dot(-5)], { bottom: [0, 0] }),
  letter(
    'j',
    'j',
    'open',
    'open',
    [pen(140, X).line(140, -90).curve(-40, TAIL, 198, FULL).end(), flag(140, X), dot(135)],
    { bottom: [100, 0] },
  ),
  letter(
    'k',
    'k',
    'open',
    'open',
    [
      bar(0, CAP, 0, 0),
      bar(360, X, 0, 290),
      bar(112, 405, 430, 0),
      flag(0, CAP),
      foot(0),
      foot(360, X, 75, 60),
      foot(430, 0, 65, 65),
    ],
    tall(0, 215),
  ),
  letter('l', 'l', 'open', 'open', [bar(0, CAP, 0, 0), flag(0, CAP), foot(0)], tall(0)),
  letter(
    'm',
    'm',
    'open',
    'open',
    [
      bar(0, X, 0, 0),
      arch(0, 405),
      ...translate([arch(0, 405)], 405, 0),
      flag(0, X),
      foot(0),
      foot(405),
      foot(810),
    ],
    above(405),
  ),
  letter(
    'n',
    'n',
    'open',
    'open',
    [bar(0, X, 0, 0), arch(0, 425), flag(0, X), foot(0), foot(425)],
    above(212),
  ),
  letter('o', 'o', 'round', 'round', [oval(265, X / 2, 265, X / 2, FULL)], above(265)),
  letter('p', 'p', 'open', 'round', [bar(0, X, 0, TAIL), bowl, flag(0, X), foot(0, TAIL)], above(240)),
  letter(
    'q',
    'q',
    'round',
    'open',
    [bar(485, X, 485, TAIL), ...mirror([bowl], 242.5), foot(485, TAIL)],
    above(240),
  ),
  letter(
    'r',
    'r',
    'open',
    'open',
    [bar(0, X, 0, 0), pen(0, 475, 66).curve(215, X, east).curve(310, 620, 318).end(), flag(0, X), foot(0)],
    above(120, 0),
  ),
  letter(
    's',
    's',
    'round',
    'round',
    [
      pen(325, 590, 137)
        .curve(175, X, west)
        .curve(15, 505, south)
        .sway(170, 340, 336, 76, 106)
        .sway(345, 165, south, 112, 76)
        .curve(168, 0, west)
        .curve(5, 70, 139)
        .end(),
      beak(325, 590, 35, 80),
      beak(5, 70, 80, 35),
    ],
    above(170),
  ),
  letter(
    't',
    't',
    'open',
    'open',
    [pen(120, 850).line(120, 150).curve(245, 0, east, FULL).curve(345, 55, 52).end(), bar(0, X, 300, X)],
    { top: [120, 850], bottom: [245, 0] },
  ),
  letter(
    'u',
    'u',
    'open',
    'open',
    [
      pen(0, X).line(0, 215).curve(190, 0, east, FULL).curve(425, 185, 66).end(),
      bar(425, X, 425, 0),
      flag(0, X),
      flag(425, X),
      toe(425),
    ],
    above(212),
  ),
  letter(
    'v',
    'v',
    'open',
    'open',
    [pen(0, X).line(225, 0).line(450, X).end(), foot(0, X, 65, 75), foot(450, X, 75, 65)],
    above(225),
  ),
  letter(
    'w',
    'w',
    'open',
    'open',
    [
      pen(0, X).line(195, 0).line(385, X).line(575, 0).line(770, X).end(),
      foot(0, X, 65, 75),
      foot(770, X, 75, 65),
    ],
    above(385),
  ),
  letter(
    'x',
    'x',
    'open',
    'open',
    [
      bar(15, X, 440, 0),
      bar(425, X, 0, 0),
      foot(15, X, 65, 70),
      foot(425, X, 70, 65),
      foot(440, 0, 70, 65),
      foot(0, 0, 65, 70),
    ],
    above(220),
  ),
  letter(
    'y',
    'y',
    'open',
    'open',
    [
      bar(0, X, 225, 0),
      pen(450, X).line(170, -161.3).curve(30, -285, 192).end(),
      foot(0, X, 65, 75),
      foot(450, X, 75, 65),
    ],
    above(225),
  ),
  letter(
    'z',
    'z',
    'open',
    'open',
    [pen(20, X).line(400, X).line(0, 0).line(415, 0).end(), bar(20, X, 20, X - 100), bar(415, 0, 415, 105)],
    above(208),
  ),
];
