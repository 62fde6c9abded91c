import { type Glyph, glyphOf, letter } from '../glyph.js';
import { CAP } from '../metrics.js';
import { bar, east, north, oval, pen, type Stroke, south, west } from '../pen.js';
import { beak, serif, tick } from './pieces.js';

/** True circles, or near it: the roman's rounds. */
const FULL = 1.0;

const above = (x: number, bottom = x) => ({ top: [x, CAP] as const, bottom: [bottom, 0] as const });

/** The lobe of P, R and B: out of the stem, round and back. */
const lobe = (width: number, top: number, waist: number, flat: number): Stroke =>
  pen(0, top)
    .line(flat, top)
    .curve(width, (top + waist) / 2, south, FULL)
    .curve(flat, waist, west, FULL)
    .line(0, waist)
    .end();

/** The open round of C and G from its upper arm, flatter than a circle, to its foot. */
const openRound = () =>
  pen(790, 875, 143).curve(460, CAP, west).curve(0, 500, south, FULL).curve(460, 0, east, FULL);
const upperBeak = beak(790, 875, 55, 100);
/** The cross serif that ends a middle arm. */
const armEnd = (x: number, y: number): Stroke => beak(x, y, 60, 60);

/**
 * Capitals to the proportions of the Roman inscriptions: O, Q, C, D and G near a circle, M and N wide, B, E, F, L, P,
 * R and S half as wide as they are high. Serifs are strokes of their own, cut last.
 */
export const capitals: readonly Glyph[] = [
  letter(
    'A',
    'A',
    'open',
    'open',
    [
      pen(0, 0).line(380, CAP).line(760, 0).end(),
      bar(129, 340, 631, 340),
      serif(0, 0, 80, 95),
      serif(760, 0, 95, 80),
    ],
    above(380),
  ),
  letter(
    'B',
    'B',
    'open',
    'round',
    [
      bar(0, CAP, 0, 0),
      lobe(430, CAP, 545, 200),
      lobe(500, 545, 0, 220),
      bar(-95, CAP, 0, CAP),
      bar(-95, 0, 0, 0),
    ],
    above(240),
  ),
  letter('C', 'C', 'round', 'open', [openRound().curve(815, 165, 43).end(), upperBeak], above(460)),
  letter(
    'D',
    'D',
    'open',
    'round',
    [
      bar(0, CAP, 0, 0),
      pen(0, CAP).line(260, CAP).curve(760, 500, south, FULL).curve(260, 0, west, FULL).line(0, 0).end(),
      bar(-95, CAP, 0, CAP),
      bar(-95, 0, 0, 0),
    ],
    above(330),
  ),
  letter(
    'E',
    'E',
    'open',
    'open',
    [
      pen(450, CAP).line(0, CAP).line(0, 0).line(490, 0).end(),
      bar(0, 530, 380, 530),
      bar(-95, CAP, 0, CAP),
      bar(-95, 0, 0, 0),
      tick(450, CAP, -130),
      tick(490, 0, 140),
      armEnd(380, 530),
    ],
    above(230),
  ),
  letter(
    'F',
    'F',
    'open',
    'open',
    [
      pen(450, CAP).line(0, CAP).line(0, 0).end(),
      bar(0, 510, 370, 510),
      bar(-95, CAP, 0, CAP),
      serif(0, 0),
      tick(450, CAP, -140),
      armEnd(370, 510),
    ],
    above(220, 0),
  ),
  letter(
    'G',
    'G',
    'round',
    'open',
    [openRound().curve(760, 80, 28).corner(north).line(760, 430).end(), serif(760, 430, 115, 75), upperBeak],
    above(460),
  ),
  letter(
    'H',
    'H',
    'open',
    'open',
    [
      bar(0, CAP, 0, 0),
      bar(0, 530, 700, 530),
      bar(700, CAP, 700, 0),
      serif(0, CAP),
      serif(0, 0),
      serif(700, CAP),
      serif(700, 0),
    ],
    above(350),
  ),
  glyphOf('I', 'I', 150, 150, [bar(0, CAP, 0, 0), serif(0, CAP, 65, 65), serif(0, 0, 65, 65)], above(0)),
  letter(
    'J',
    'J',
    'open',
    'open',
    [pen(200, CAP).line(200, 80).curve(0, -200, 205, FULL).end(), serif(200, CAP)],
    above(200, 150),
  ),
  letter(
    'K',
    'K',
    'open',
    'open',
    [
      bar(0, CAP, 0, 0),
      bar(530, CAP, 0, 420),
      bar(137, 570, 640, 0),
      serif(0, CAP),
      serif(0, 0),
      serif(530, CAP, 90, 70),
      serif(640, 0, 90, 80),
    ],
    above(300, 320),
  ),
  letter(
    'L',
    'L',
    'open',
    'open',
    [pen(0, CAP).line(0, 0).line(480, 0).end(), serif(0, CAP), bar(-95, 0, 0, 0), tick(480, 0, 150)],
    { top: [0, CAP], bottom: [230, 0] },
  ),
  letter(
    'M',
    'M',
    'open',
    'open',
    [
      pen(0, 0).line(70, CAP).line(440, 120).line(810, CAP).line(880, 0).end(),
      serif(0, 0, 90, 70),
      serif(880, 0, 70, 90),
      bar(-20, CAP, 70, CAP),
      bar(810, CAP, 900, CAP),
    ],
    above(440),
  ),
  letter(
    'N',
    'N',
    'open',
    'open',
    [
      pen(0, 0).line(0, CAP).line(740, 0).line(740, CAP).end(),
      serif(0, 0),
      bar(-95, CAP, 0, CAP),
      serif(740, CAP),
    ],
    above(370),
  ),
  letter('O', 'O', 'round', 'round', [oval(460, 500, 460, 500, FULL)], above(460)),
  letter(
    'P',
    'P',
    'open',
    'round',
    [bar(0, CAP, 0, 0), lobe(470, CAP, 470, 220), bar(-95, CAP, 0, CAP), serif(0, 0)],
    above(240, 0),
  ),
  letter(
    'Q',
    'Q',
    'round',
    'open',
    [oval(460, 500, 460, 500, FULL), pen(500, 1, 330).curve(980, -180, 358, FULL).end()],
    above(460),
  ),
  letter(
    'R',
    'R',
    'open',
    'open',
    [
      bar(0, CAP, 0, 0),
      lobe(460, CAP, 490, 210),
      bar(250, 488, 640, 0),
      bar(-95, CAP, 0, CAP),
      serif(0, 0),
      serif(640, 0, 70, 85),
    ],
    above(250, 300),
  ),
  letter(
    'S',
    'S',
    'round',
    'round',
    [
      pen(455, 908, 139)
        .curve(245, CAP, west)
        .curve(20, 770, south)
        .sway(250, 515, 335, 115, 160)
        .sway(490, 245, south, 165, 115)
        .curve(235, 0, west)
        .curve(5, 95, 140)
        .end(),
      beak(455, 908, 48, 97),
      beak(5, 95, 97, 48),
    ],
    above(245),
  ),
  letter(
    'T',
    'T',
    'open',
    'open',
    [bar(0, CAP, 680, CAP), bar(340, CAP, 340, 0), serif(340, 0), tick(0, CAP, -150), tick(680, CAP, -150)],
    above(340),
  ),
  letter(
    'U',
    'U',
    'open',
    'open',
    [
      pen(0, CAP).line(0, 350).curve(340, 0, east, FULL).curve(680, 350, north, FULL).line(680, CAP).end(),
      serif(0, CAP),
      serif(680, CAP),
    ],
    above(340),
  ),
  letter(
    'V',
    'V',
    'open',
    'open',
    [pen(0, CAP).line(370, 0).line(740, CAP).end(), serif(0, CAP, 80, 95), serif(740, CAP, 95, 80)],
    above(370),
  ),
  letter(
    'W',
    'W',
    'open',
    'open',
    [
      pen(0, CAP).line(290, 0).line(540, CAP).line(790, 0).line(1080, CAP).end(),
      serif(0, CAP, 80, 95),
      serif(1080, CAP, 95, 80),
    ],
    above(540),
  ),
  letter(
    'X',
    'X',
    'open',
    'open',
    [
      bar(30, CAP, 680, 0),
      bar(650, CAP, 0, 0),
      serif(30, CAP, 75, 90),
      serif(680, 0, 90, 75),
      serif(650, CAP, 90, 75),
      serif(0, 0, 75, 90),
    ],
    above(340),
  ),
  letter(
    'Y',
    'Y',
    'open',
    'open',
    [
      pen(0, CAP).line(350, 480).line(700, CAP).end(),
      bar(350, 480, 350, 0),
      serif(0, CAP, 75, 95),
      serif(700, CAP, 95, 75),
      serif(350, 0),
    ],
    above(350),
  ),
  letter(
    'Z',
    'Z',
    'open',
    'open',
    [pen(30, CAP).line(610, CAP).line(0, 0).line(630, 0).end(), tick(30, CAP, -150), tick(630, 0, 150)],
    above(320),
  ),
];
