import { type Glyph, tabular } from '../glyph.js';
import { CAP, DIGIT_ADVANCE } from '../metrics.js';
import { aim, east, halfTurned, north, oval, pen, type Stroke, south, west } from '../pen.js';
import { serif, tick, X } from './pieces.js';

const digit = (name: string, char: string, strokes: readonly Stroke[], lean = 0): Glyph =>
  tabular(name, char, DIGIT_ADVANCE, strokes, lean);

const two: Stroke = pen(30, 760, 74)
  .curve(235, CAP, east)
  .curve(450, 745, south)
  .curve(350, 480, aim(350, 480, 0, 0))
  .line(0, 0)
  .line(490, 0)
  .end();

const three: Stroke = pen(35, 830, 58)
  .curve(220, CAP, east)
  .curve(425, 775, south)
  .curve(185, 545, 188)
  .corner(352)
  .curve(470, 275, south)
  .curve(205, 0, west)
  .curve(0, 120, 128)
  .end();

const five: Stroke = pen(420, CAP)
  .line(105, CAP)
  .line(65, 565)
  .corner(32)
  .curve(235, 620, east)
  .curve(475, 315, south)
  .curve(205, 0, west)
  .curve(0, 110, 130)
  .end();

const six: Stroke = pen(440, CAP, 186)
  .curve(0, 370, south)
  .curve(240, 0, east)
  .curve(480, 310, north)
  .curve(260, 610, west)
  .curve(10, 420, 240)
  .end();

const eight: Stroke = pen(245, CAP, west)
  .curve(50, 775, south)
  .sway(245, 530, 328, 110, 150)
  .sway(485, 255, south, 190, 117)
  .curve(245, 0, west)
  .curve(5, 255, north)
  .sway(245, 530, 32, 117, 190)
  .sway(440, 775, north, 150, 110)
  .curve(245, CAP, west)
  .close();

export const digits: readonly Glyph[] = [
  digit('zero', '0', [oval(245, 500, 245, 500, 1.04)]),
  digit('one', '1', [pen(-130, 880).line(0, CAP).line(0, 0).end(), serif(0, 0, 95, 95)], -10),
  digit('two', '2', [two, tick(490, 0, 120)]),
  digit('three', '3', [three]),
  digit('four', '4', [pen(390, 0).line(390, CAP).line(0, 280).line(530, 280).end(), serif(390, 0, 90, 90)]),
  digit('five', '5', [five]),
  digit('six', '6', [six]),
  digit('seven', '7', [pen(0, CAP).line(480, CAP).line(150, 0).end(), tick(0, CAP, -130)]),
  digit('eight', '8', [eight]),
  digit('nine', '9', halfTurned([six], 245, 500)),
];

/** 0, 1 and 2 as high as small letters. */
export const smallDigits: readonly [readonly Stroke[], readonly Stroke[], readonly Stroke[]] = [
  [oval(250, X / 2, 250, X / 2, 1.0)],
  [
    pen(-120, X - 85)
      .line(0, X)
      .line(0, 0)
      .end(),
    serif(0, 0, 85, 85),
  ],
  [
    pen(20, 500, 74)
      .curve(205, X, east)
      .curve(385, 500, south)
      .curve(300, 320, aim(300, 320, 0, 0))
      .line(0, 0)
      .line(420, 0)
      .end(),
    tick(420, 0, 105),
  ],
];
