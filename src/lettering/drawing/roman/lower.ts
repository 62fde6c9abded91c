import { type Glyph, letter } from '../glyph.js';
import { CAP, DOT, TAIL } from '../metrics.js';
import { bar, east, mirrored, moved, north, oval, pen, type Stroke, south, spot, west } from '../pen.js';
import { flag, foot, X } from './pieces.js';

const FULL = 1.03;
const DOT_HEIGHT = 920;

const above = (x: number, bottom = x) => ({ top: [x, X] as const, bottom: [bottom, 0] as const });
const tall = (x: number, bottom = x) => ({ top: [x, CAP] as const, bottom: [bottom, 0] as const });

/** The bowl that leans on a stem at x = 0. */
export const bowl: Stroke = pen(0, 510, 60)
  .curve(235, X, east)
  .curve(450, X / 2, south, FULL)
  .curve(225, 0, west, FULL)
  .curve(0, 110, 130)
  .end();

const arch = (from: number, to: number): Stroke =>
  pen(from, 490, 58)
    .curve(from + (to - from) * 0.56, X, east)
    .curve(to, 430, south, FULL)
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
      pen(45, 540, 66)
        .curve(195, X, east)
        .curve(360, 480, south, FULL)
        .line(360, 110)
        .curve(445, 15, 330)
        .end(),
      pen(360, 400, 188).curve(0, 165, south, FULL).curve(150, 0, east, FULL).curve(360, 130, 58).end(),
    ],
    above(190),
  ),
  letter('b', 'b', 'open', 'round', [bar(0, CAP, 0, 110), bowl, flag(0, CAP)], tall(0, 225)),
  letter(
    'c',
    'c',
    'round',
    'open',
    [
      pen(385, 560, 125)
        .curve(230, X, west)
        .curve(0, X / 2, south, FULL)
        .curve(235, 0, east, FULL)
        .curve(400, 110, 54)
        .end(),
    ],
    above(225),
  ),
  letter(
    'd',
    'd',
    'round',
    'open',
    [pen(450, CAP).line(450, 110).curve(540, 15, 330).end(), ...mirrored([bowl], 225), flag(450, CAP)],
    tall(450, 225),
  ),
  letter(
    'e',
    'e',
    'round',
    'round',
    [
      pen(8, 390)
        .line(420, 390)
        .corner(north)
        .curve(222, X, west, FULL)
        .curve(0, 340, south, FULL)
        .curve(235, 0, east, FULL)
        .curve(410, 115, 52)
        .end(),
    ],
    above(222),
  ),
  letter(
    'f',
    'f',
    'open',
    'open',
    [
      pen(360, 950, 150).curve(265, CAP, west).curve(120, 800, south, FULL).line(120, 0).end(),
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
      oval(205, 445, 205, 215, FULL),
      bar(372, 568, 490, 640),
      pen(90, 268, 235)
        .curve(60, 140, 300)
        .curve(190, 80, 358)
        .sway(430, -80, south, 170, 90)
        .curve(205, TAIL, west, FULL)
        .curve(0, -170, north, FULL)
        .curve(100, -20, 42)
        .end(),
    ],
    { top: [205, X], bottom: [205, TAIL] },
  ),
  letter(
    'h',
    'h',
    'open',
    'open',
    [bar(0, CAP, 0, 0), arch(0, 410), flag(0, CAP), foot(0), foot(410)],
    tall(0, 205),
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
      arch(0, 390),
      ...moved([arch(0, 390)], 390, 0),
      flag(0, X),
      foot(0),
      foot(390),
      foot(780),
    ],
    above(390),
  ),
  letter(
    'n',
    'n',
    'open',
    'open',
    [bar(0, X, 0, 0), arch(0, 410), flag(0, X), foot(0), foot(410)],
    above(205),
  ),
  letter('o', 'o', 'round', 'round', [oval(240, X / 2, 240, X / 2, FULL)], above(240)),
  letter('p', 'p', 'open', 'round', [bar(0, X, 0, TAIL), bowl, flag(0, X), foot(0, TAIL)], above(225)),
  letter(
    'q',
    'q',
    'round',
    'open',
    [bar(450, X, 450, TAIL), ...mirrored([bowl], 225), foot(450, TAIL)],
    above(225),
  ),
  letter(
    'r',
    'r',
    'open',
    'open',
    [bar(0, X, 0, 0), pen(0, 480, 58).curve(200, X, east).curve(300, 620, 322).end(), flag(0, X), foot(0)],
    above(120, 0),
  ),
  letter(
    's',
    's',
    'round',
    'round',
    [
      pen(315, 565, 128)
        .curve(170, X, west)
        .curve(15, 505, south)
        .sway(170, 340, 336, 76, 106)
        .sway(335, 165, south, 112, 76)
        .curve(162, 0, west)
        .curve(0, 100, 124)
        .end(),
      bar(315, 565, 315, 650),
      bar(0, 100, 0, 12),
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
      pen(0, X).line(0, 205).curve(180, 0, east, FULL).curve(410, 150, 60).end(),
      pen(410, X).line(410, 110).curve(500, 15, 330).end(),
      flag(0, X),
      flag(410, X),
    ],
    above(205),
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
      pen(450, X).line(150, -216).end(),
      foot(0, X, 65, 75),
      foot(450, X, 75, 65),
      spot(112, -225, DOT),
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
