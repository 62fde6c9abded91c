import { type Glyph, letter } from '../glyph.js';
import { CAP, TAIL } from '../metrics.js';
import { bar, east, north, oval, pen, south } from '../pen.js';
import { flag, serif, toe, X } from './pieces.js';

/** Signs made of letters, with the roman's serifs. */
export const signs: readonly Glyph[] = [
  letter('ampersand', '&', 'round', 'open', [
    pen(670, 0)
      .line(170, 630)
      .curve(115, 795, north)
      .curve(285, CAP, east)
      .curve(450, 815, south)
      .curve(300, 585, 216)
      .sway(0, 250, south, 170, 150)
      .curve(255, 0, east)
      .curve(630, 450, 78)
      .end(),
    serif(670, 0, 0, 90),
    serif(630, 450, 80, 80),
  ]),
  letter('numero', '№', 'open', 'round', [
    pen(0, 0).line(0, CAP).line(640, 0).line(640, CAP).end(),
    serif(0, 0),
    bar(-95, CAP, 0, CAP),
    serif(640, CAP),
    oval(1060, 740, 195, 260),
    bar(880, 330, 1240, 330),
  ]),
  letter('yen', '¥', 'open', 'open', [
    pen(0, CAP).line(330, 480).line(660, CAP).end(),
    bar(330, 480, 330, 0),
    bar(90, 420, 570, 420),
    bar(90, 230, 570, 230),
    serif(0, CAP, 75, 95),
    serif(660, CAP, 95, 75),
    serif(330, 0),
  ]),
  letter('mu', 'µ', 'open', 'open', [
    pen(0, X).line(0, 215).curve(190, 0, east, 1.03).curve(425, 185, 66).end(),
    bar(0, 215, 0, TAIL),
    bar(425, X, 425, 0),
    flag(0, X),
    flag(425, X),
    toe(425),
  ]),
];
