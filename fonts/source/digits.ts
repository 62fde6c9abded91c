import { type Glyph, tabular } from './glyph.js';
import { CAP, DIGIT_ADVANCE } from './metrics.js';
import { aim, bar, east, halfTurned, north, oval, pen, type Stroke, south, west } from './pen.js';

/** Squarer than O and much narrower: nought must never pass for the letter. */
const nought: Stroke = oval(240, 500, 240, 500, 1.1);

const two: Stroke = pen(15, 770, 78)
  .curve(245, CAP, east)
  .curve(475, 750, south)
  .curve(380, 475, aim(380, 475, 0, 0))
  .line(0, 0)
  .line(500, 0)
  .end();

const three: Stroke = pen(25, 850, 58)
  .curve(225, CAP, east)
  .curve(445, 770, south)
  .curve(205, 540, 184)
  .corner(356)
  .curve(490, 270, south)
  .curve(225, 0, west)
  .curve(0, 165, 118)
  .end();

const four: Stroke = pen(385, 0).line(385, CAP).line(0, 270).line(530, 270).end();

const five: Stroke = pen(445, CAP)
  .line(85, CAP)
  .line(45, 560)
  .corner(38)
  .curve(240, 640, east)
  .curve(490, 320, south)
  .curve(225, 0, west)
  .curve(0, 150, 122)
  .end();

const six: Stroke = pen(462, 890, 121)
  .curve(285, CAP, west)
  .curve(0, 400, south)
  .curve(250, 0, east)
  .curve(500, 310, north)
  .curve(260, 620, west)
  .curve(0, 400, 250)
  .end();

const seven: Stroke = pen(0, CAP).line(480, CAP).line(140, 0).end();

/** One closed cut that crosses itself at the waist: no second start, no doubled line where two rings would touch. */
const eight: Stroke = pen(250, CAP, west)
  .curve(40, 770, south)
  .sway(250, 525, 329, 110, 160)
  .sway(500, 255, south, 200, 117)
  .curve(250, 0, west)
  .curve(0, 255, north)
  .sway(250, 525, 31, 117, 200)
  .sway(460, 770, north, 160, 110)
  .curve(250, CAP, west)
  .close();

const digit = (name: string, char: string, strokes: readonly Stroke[], lean = 0): Glyph =>
  tabular(name, char, DIGIT_ADVANCE, strokes, lean);

export const digits: readonly Glyph[] = [
  digit('zero', '0', [nought]),
  digit('one', '1', [pen(0, 800).line(200, CAP).line(200, 0).end()], -20),
  digit('two', '2', [two]),
  digit('three', '3', [three]),
  digit('four', '4', [four]),
  digit('five', '5', [five]),
  digit('six', '6', [six]),
  digit('seven', '7', [seven]),
  digit('eight', '8', [eight]),
  digit('nine', '9', halfTurned([six], 250, 500)),
  digit('plus', '+', [bar(0, 500, 480, 500), bar(240, 740, 240, 260)]),
  digit('equal', '=', [bar(0, 600, 480, 600), bar(0, 400, 480, 400)]),
  digit('multiply', '×', [bar(0, 700, 400, 300), bar(400, 700, 0, 300)]),
];
