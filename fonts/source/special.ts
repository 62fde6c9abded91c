import { type Glyph, letter } from './glyph.js';
import { CAP, TAIL, X_HEIGHT } from './metrics.js';
import { bar, east, north, oval, pen, type Stroke, south, west } from './pen.js';

const FULL = 1.08;

/** The round half of o that a second letter is joined to, from x on to the right. */
const smallE = (x: number): Stroke =>
  pen(x, 360)
    .line(x + 400, 360)
    .corner(north)
    .curve(x + 210, X_HEIGHT, west, FULL)
    .curve(x, 360, south, FULL)
    .curve(x + 215, 0, east, FULL)
    .curve(x + 385, 95, 54)
    .end();

/** Letters of Latin-1 and Latin Extended-A that are no other letter with a mark. */
export const special: readonly Glyph[] = [
  letter(
    'AE',
    'Æ',
    'open',
    'open',
    [
      pen(0, 0).line(470, CAP).line(900, CAP).end(),
      pen(470, CAP).line(470, 0).line(910, 0).end(),
      bar(470, 520, 850, 520),
      bar(141, 300, 470, 300),
    ],
    { top: [600, CAP] },
  ),
  letter('OE', 'Œ', 'round', 'open', [
    pen(890, CAP).line(385, CAP).curve(0, 500, south, 1.04).curve(385, 0, east, 1.04).line(900, 0).end(),
    bar(480, CAP, 480, 0),
    bar(480, 520, 840, 520),
  ]),
  letter('ae', 'æ', 'round', 'round', [
    pen(50, 590, 62).curve(205, X_HEIGHT, east).curve(380, 500, south, FULL).line(380, 360).end(),
    pen(380, 410)
      .line(195, 410)
      .curve(0, 205, south, FULL)
      .curve(175, 0, east, FULL)
      .curve(380, 360, north)
      .end(),
    smallE(380),
  ]),
  letter('oe', 'œ', 'round', 'round', [oval(215, 350, 215, 350, FULL), smallE(430)]),
  letter('Thorn', 'Þ', 'straight', 'round', [
    bar(0, CAP, 0, 0),
    pen(0, 790).line(290, 790).curve(540, 520, south, 1.04).curve(290, 250, west, 1.04).line(0, 250).end(),
  ]),
  letter('thorn', 'þ', 'straight', 'round', [
    bar(0, CAP, 0, TAIL),
    pen(0, 545, 62)
      .curve(225, X_HEIGHT, east)
      .curve(430, 350, south, FULL)
      .curve(225, 0, west, FULL)
      .curve(0, 155, 118)
      .end(),
  ]),
  letter('germandbls', 'ß', 'straight', 'round', [
    pen(0, 0)
      .line(0, 760)
      .curve(200, CAP, east)
      .curve(390, 800, south)
      .curve(230, 570, 200)
      .corner(350)
      .curve(440, 290, south, FULL)
      .curve(225, 0, west, FULL)
      .curve(150, 12, 160)
      .end(),
  ]),
  letter('Germandbls', 'ẞ', 'straight', 'round', [
    pen(0, 0)
      .line(0, 700)
      .curve(280, CAP, east)
      .line(560, CAP)
      .line(300, 590)
      .corner(352)
      .curve(570, 290, south, 1.04)
      .curve(320, 0, west, 1.04)
      .curve(190, 25, 155)
      .end(),
  ]),
  letter('eth', 'ð', 'round', 'round', [
    oval(220, 330, 220, 330, FULL),
    pen(120, CAP, 330).curve(440, 330, south).end(),
    bar(90, 760, 380, 920),
  ]),
  letter('longs', 'ſ', 'open', 'open', [
    pen(350, 975, 155).curve(265, CAP, west).curve(120, 830, south, FULL).line(120, 0).end(),
    bar(0, X_HEIGHT, 120, X_HEIGHT),
  ]),
  letter('kgreenlandic', 'ĸ', 'straight', 'open', [
    bar(0, X_HEIGHT, 0, 0),
    bar(360, X_HEIGHT, 0, 250),
    bar(120, 400, 400, 0),
  ]),
  letter('Eng', 'Ŋ', 'straight', 'straight', [
    pen(0, 0).line(0, CAP).line(660, 0).end(),
    pen(660, CAP).line(660, -90).curve(480, TAIL, west, FULL).curve(390, -280, 160).end(),
  ]),
  letter('eng', 'ŋ', 'straight', 'straight', [
    bar(0, X_HEIGHT, 0, 0),
    pen(0, 535, 63)
      .curve(212, X_HEIGHT, east)
      .curve(400, 480, south, FULL)
      .line(400, -110)
      .curve(225, TAIL, west, FULL)
      .curve(140, -285, 165)
      .end(),
  ]),
];

export const dotlessJ: Glyph = letter(
  'dotlessj',
  'ȷ',
  'open',
  'straight',
  [pen(140, X_HEIGHT).line(140, -140).curve(0, TAIL, west, FULL).end()],
  { top: [140, X_HEIGHT] },
);
