import { type Glyph, letter } from './glyph.js';
import { CAP, DOT, TAIL, X_HEIGHT } from './metrics.js';
import {
  bar,
  east,
  halfTurned,
  mirror,
  oval,
  pen,
  type Stroke,
  south,
  spot,
  translate,
  west,
} from './pen.js';

const dotAt = (x: number, y: number): Stroke => spot(x, y, DOT);

const esse: Stroke = pen(445, 800, 122)
  .curve(240, 900, west)
  .curve(20, 700, south)
  .sway(240, 505, 337, 100, 150)
  .sway(470, 300, south, 160, 105)
  .curve(230, 100, west)
  .curve(0, 240, 118)
  .end();
const pound: Stroke = pen(500, 840, 122)
  .curve(330, CAP, west)
  .curve(160, 780, south)
  .line(160, 250)
  .curve(0, 0, 215)
  .corner(east)
  .line(520, 0)
  .end();
const brace: Stroke = pen(210, CAP, 190)
  .curve(110, 880, south)
  .line(110, 560)
  .curve(0, 400, 215)
  .corner(325)
  .curve(110, 240, south)
  .line(110, -80)
  .curve(210, -200, 350)
  .end();
const chevron: Stroke = pen(160, 560).line(0, 350).line(160, 140).end();
const query: Stroke = pen(0, 800, 76)
  .curve(215, CAP, east)
  .curve(430, 765, south)
  .curve(320, 555, 226)
  .curve(215, 300, south)
  .end();
const roundC = (cx: number, cy: number, r: number): Stroke =>
  pen(cx + 0.72 * r, cy + 0.69 * r, 134)
    .curve(cx, cy + r, west)
    .curve(cx - r, cy, south)
    .curve(cx, cy - r, east)
    .curve(cx + 0.72 * r, cy - 0.69 * r, 46)
    .end();
const section: Stroke = pen(360, 850, 118)
  .curve(200, 950, west)
  .curve(40, 800, south)
  .sway(200, 600, 330, 90, 130)
  .sway(400, 380, south, 150, 110)
  .curve(290, 228, 200)
  .end();
const lowTick: Stroke = pen(60, 50, 278).curve(0, -150, 232).end();

/** The signs of Latin-1 beyond those of everyday text, and a few of the bench's own. */
export const moreSigns: readonly Glyph[] = [
  letter('dollar', '$', 'round', 'round', [esse, bar(235, CAP, 235, 0)]),
  letter('less', '<', 'open', 'open', [pen(440, 720).line(0, 500).line(440, 280).end()]),
  letter('greater', '>', 'open', 'open', [pen(0, 720).line(440, 500).line(0, 280).end()]),
  letter('backslash', '\\', 'open', 'open', [bar(0, CAP, 400, -100)]),
  letter('bar', '|', 'straight', 'straight', [bar(0, CAP, 0, -200)]),
  letter('brokenbar', '¦', 'straight', 'straight', [bar(0, CAP, 0, 500), bar(0, 300, 0, -200)]),
  letter('braceleft', '{', 'open', 'open', [brace]),
  letter('braceright', '}', 'open', 'open', mirror([brace], 105)),
  letter('exclamdown', '¡', 'straight', 'straight', [bar(0, 400, 0, TAIL), dotAt(0, 675)]),
  letter('questiondown', '¿', 'round', 'open', halfTurned([query, dotAt(215, DOT)], 215, 350)),
  letter('cent', '¢', 'round', 'open', [roundC(220, 350, 220), bar(220, 760, 220, -60)]),
  letter('sterling', '£', 'open', 'open', [pound, bar(0, 480, 400, 480)]),
  letter('currency', '¤', 'open', 'open', [
    oval(240, 480, 160, 160),
    bar(0, 720, 127, 593),
    bar(480, 720, 353, 593),
    bar(0, 240, 127, 367),
    bar(480, 240, 353, 367),
  ]),
  letter('yen', '¥', 'open', 'open', [
    pen(0, CAP).line(300, 470).line(600, CAP).end(),
    bar(300, 470, 300, 0),
    bar(60, 420, 540, 420),
    bar(60, 210, 540, 210),
  ]),
  letter('Euro', '€', 'open', 'open', [
    pen(620, 826, 125)
      .curve(420, CAP, west)
      .curve(90, 500, south, 1.04)
      .curve(420, 0, east, 1.04)
      .curve(620, 174, 55)
      .end(),
    bar(0, 580, 480, 580),
    bar(0, 420, 480, 420),
  ]),
  letter('section', '§', 'round', 'round', [section, ...halfTurned([section], 200, 400)]),
  letter('paragraph', '¶', 'round', 'straight', [
    pen(520, CAP).line(250, CAP).curve(0, 760, south).curve(250, 520, east).line(300, 520).end(),
    bar(300, CAP, 300, TAIL),
    bar(520, CAP, 520, TAIL),
  ]),
  letter('copyright', '©', 'round', 'round', [oval(430, 500, 430, 430), roundC(430, 500, 210)]),
  letter('registered', '®', 'round', 'round', [
    oval(430, 500, 430, 430),
    pen(320, 290)
      .line(320, 710)
      .line(440, 710)
      .curve(560, 600, south)
      .curve(440, 490, west)
      .line(320, 490)
      .end(),
    bar(440, 490, 570, 290),
  ]),
  letter('trademark', '™', 'open', 'straight', [
    bar(0, CAP, 300, CAP),
    bar(150, CAP, 150, 560),
    pen(460, 560).line(460, CAP).line(670, 680).line(880, CAP).line(880, 560).end(),
  ]),
  letter('guillemotleft', '«', 'open', 'open', [chevron, ...translate([chevron], 200, 0)]),
  letter('guillemotright', '»', 'open', 'open', mirror([chevron, ...translate([chevron], 200, 0)], 180)),
  letter('guilsinglleft', '‹', 'open', 'open', [chevron]),
  letter('guilsinglright', '›', 'open', 'open', mirror([chevron], 80)),
  letter('logicalnot', '¬', 'open', 'open', [pen(0, 520).line(480, 520).line(480, 300).end()]),
  letter('plusminus', '±', 'open', 'open', [
    bar(0, 560, 480, 560),
    bar(240, 800, 240, 320),
    bar(0, 120, 480, 120),
  ]),
  letter('divide', '÷', 'open', 'open', [bar(0, 500, 480, 500), dotAt(240, 740), dotAt(240, 260)]),
  letter('mu', 'µ', 'straight', 'straight', [
    pen(0, X_HEIGHT).line(0, 220).curve(188, 0, east, 1.08).curve(400, 165, 63).end(),
    bar(400, X_HEIGHT, 400, 0),
    bar(0, 220, 0, TAIL),
  ]),
  letter('quotesinglbase', '‚', 'open', 'round', [lowTick]),
  letter('quotedblbase', '„', 'open', 'round', [lowTick, ...translate([lowTick], 190, 0)]),
];
