import { type Glyph, letter } from './glyph.js';
import { CAP } from './metrics.js';
import { bar, east, north, oval, pen, type Stroke, south, west } from './pen.js';

/** Capital rounds are a touch squarer than ellipses: they hold their size beside straight letters without overshoot. */
const FULL = 1.04;

/** Round letters share this opening: from the upper terminal round by the left to the foot. */
const openRound = () =>
  pen(668, 826, 125).curve(385, CAP, west).curve(0, 500, south, FULL).curve(385, 0, east, FULL);

/** Stem and upper bowl of P and R in one cut, coming back to the stem at the waist. */
const bowled = (width: number, flat: number, waist: number): Stroke =>
  pen(0, 0)
    .line(0, CAP)
    .line(flat, CAP)
    .curve(width, (CAP + waist) / 2, south, FULL)
    .curve(flat, waist, west, FULL)
    .line(0, waist)
    .end();

const above = (x: number) => ({ top: [x, CAP] as const, bottom: [x, 0] as const });

export const capitals: readonly Glyph[] = [
  letter(
    'A',
    'A',
    'open',
    'open',
    [pen(0, 0).line(360, CAP).line(720, 0).end(), bar(108, 300, 612, 300)],
    above(360),
  ),
  letter(
    'B',
    'B',
    'straight',
    'round',
    [
      bowled(510, 280, 530),
      pen(280, 530).line(310, 530).curve(570, 265, south, FULL).curve(310, 0, west, FULL).line(0, 0).end(),
    ],
    above(285),
  ),
  letter('C', 'C', 'round', 'open', [openRound().curve(668, 174, 55).end()], above(385)),
  letter(
    'D',
    'D',
    'straight',
    'round',
    [
      pen(0, 0)
        .line(0, CAP)
        .line(240, CAP)
        .curve(670, 500, south, FULL)
        .curve(240, 0, west, FULL)
        .line(0, 0)
        .close('sharp'),
    ],
    above(300),
  ),
  letter(
    'E',
    'E',
    'straight',
    'open',
    [pen(500, CAP).line(0, CAP).line(0, 0).line(500, 0).end(), bar(0, 520, 440, 520)],
    above(260),
  ),
  letter(
    'F',
    'F',
    'straight',
    'open',
    [pen(490, CAP).line(0, CAP).line(0, 0).end(), bar(0, 500, 420, 500)],
    above(250),
  ),
  letter(
    'G',
    'G',
    'round',
    'straight',
    [openRound().curve(690, 270, north, FULL).line(690, 460).line(440, 460).end()],
    above(385),
  ),
  letter(
    'H',
    'H',
    'straight',
    'straight',
    [bar(0, CAP, 0, 0), bar(0, 520, 640, 520), bar(640, CAP, 640, 0)],
    above(320),
  ),
  letter('I', 'I', 'straight', 'straight', [bar(0, CAP, 0, 0)], above(0)),
  letter(
    'J',
    'J',
    'open',
    'straight',
    [pen(380, CAP).line(380, 270).curve(185, 0, west, FULL).curve(0, 170, 112).end()],
    { top: [380, CAP], bottom: [190, 0] },
  ),
  letter(
    'K',
    'K',
    'straight',
    'open',
    [bar(0, CAP, 0, 0), bar(560, CAP, 0, 360), bar(175, 560, 600, 0)],
    above(290),
  ),
  letter('L', 'L', 'straight', 'open', [pen(0, CAP).line(0, 0).line(460, 0).end()], {
    top: [0, CAP],
    bottom: [230, 0],
  }),
  letter(
    'M',
    'M',
    'straight',
    'straight',
    [pen(0, 0).line(0, CAP).line(400, 260).line(800, CAP).line(800, 0).end()],
    above(400),
  ),
  letter(
    'N',
    'N',
    'straight',
    'straight',
    [pen(0, 0).line(0, CAP).line(660, 0).line(660, CAP).end()],
    above(330),
  ),
  letter('O', 'O', 'round', 'round', [oval(385, 500, 385, 500, FULL)], above(385)),
  letter('P', 'P', 'straight', 'round', [bowled(540, 290, 460)], above(270)),
  letter('Q', 'Q', 'round', 'round', [oval(385, 500, 385, 500, FULL), bar(480, 240, 740, -60)], above(385)),
  letter('R', 'R', 'straight', 'open', [bowled(530, 290, 490), bar(290, 490, 580, 0)], above(280)),
  letter(
    'S',
    'S',
    'round',
    'round',
    [
      pen(535, 840, 122)
        .curve(290, CAP, west)
        .curve(25, 750, south)
        .sway(285, 510, 337, 122, 180)
        .sway(565, 260, south, 195, 125)
        .curve(275, 0, west)
        .curve(0, 175, 118)
        .end(),
    ],
    above(285),
  ),
  letter('T', 'T', 'open', 'open', [bar(0, CAP, 640, CAP), bar(320, CAP, 320, 0)], above(320)),
  letter(
    'U',
    'U',
    'straight',
    'straight',
    [pen(0, CAP).line(0, 340).curve(320, 0, east, FULL).curve(640, 340, north, FULL).line(640, CAP).end()],
    above(320),
  ),
  letter('V', 'V', 'open', 'open', [pen(0, CAP).line(350, 0).line(700, CAP).end()], above(350)),
  letter(
    'W',
    'W',
    'open',
    'open',
    [pen(0, CAP).line(250, 0).line(500, CAP).line(750, 0).line(1000, CAP).end()],
    above(500),
  ),
  letter('X', 'X', 'open', 'open', [bar(20, CAP, 640, 0), bar(620, CAP, 0, 0)], above(320)),
  letter(
    'Y',
    'Y',
    'open',
    'open',
    [pen(0, CAP).line(330, 470).line(660, CAP).end(), bar(330, 470, 330, 0)],
    above(330),
  ),
  letter('Z', 'Z', 'open', 'open', [pen(15, CAP).line(600, CAP).line(0, 0).line(610, 0).end()], above(305)),
];
