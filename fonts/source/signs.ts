import { type Glyph, glyphOf, letter } from './glyph.js';
import { CAP, DOT } from './metrics.js';
import {
  bar,
  east,
  halfTurned,
  mirror,
  north,
  oval,
  pen,
  type Stroke,
  south,
  spot,
  translate,
  west,
} from './pen.js';

const dotAt = (x: number, y: number): Stroke => spot(x, y, DOT);
const onBase = (x: number): Stroke => dotAt(x, DOT);

/** The comma's short hooked cut; the quotes are this one raised, or raised and turned. */
const tick: Stroke = pen(60, 50, 278).curve(0, -150, 232).end();
const raised = translate([tick], 0, CAP - 50);
const turnedUp = halfTurned(raised, 30, CAP - 100);

const parenthesis: Stroke = pen(180, CAP, 236).curve(0, 400, south).curve(180, -200, 304).end();
const bracket: Stroke = pen(170, CAP).line(0, CAP).line(0, -200).line(170, -200).end();

const ampersand: Stroke = pen(650, 0)
  .line(170, 630)
  .curve(115, 795, north)
  .curve(285, CAP, east)
  .curve(450, 815, south)
  .curve(300, 585, 216)
  .sway(0, 250, south, 170, 150)
  .curve(255, 0, east)
  .curve(610, 430, 82)
  .end();

const query: Stroke = pen(0, 800, 76)
  .curve(215, CAP, east)
  .curve(430, 765, south)
  .curve(320, 555, 226)
  .curve(215, 300, south)
  .end();

const at: readonly Stroke[] = [
  pen(540, 495, 117)
    .curve(385, 600, west)
    .curve(225, 380, south, 1.08)
    .curve(385, 165, east, 1.08)
    .curve(540, 290, 63)
    .end(),
  pen(540, 600)
    .line(540, 290)
    .curve(645, 165, east)
    .curve(800, 430, north)
    .curve(420, 880, west)
    .curve(0, 360, south)
    .curve(420, -160, east)
    .curve(690, -85, 34)
    .end(),
];

const numero: readonly Stroke[] = [
  pen(0, 0).line(0, CAP).line(600, 0).line(600, CAP).end(),
  oval(970, 740, 160, 260, 1.04),
  bar(810, 300, 1130, 300),
];

export const signs: readonly Glyph[] = [
  letter('period', '.', 'round', 'round', [onBase(0)]),
  letter('comma', ',', 'open', 'round', [tick]),
  letter('colon', ':', 'round', 'round', [dotAt(0, 575), onBase(0)]),
  letter('semicolon', ';', 'open', 'round', [dotAt(35, 575), tick]),
  letter('exclam', '!', 'straight', 'straight', [bar(0, CAP, 0, 300), onBase(0)]),
  letter('question', '?', 'open', 'round', [query, onBase(215)]),
  letter('quotesingle', "'", 'round', 'round', [bar(0, CAP, 0, 740)]),
  letter('quotedbl', '"', 'round', 'round', [bar(0, CAP, 0, 740), bar(190, CAP, 190, 740)]),
  letter('quoteleft', '‘', 'open', 'open', turnedUp),
  letter('quoteright', '’', 'open', 'open', raised),
  letter('quotedblleft', '“', 'open', 'open', [...turnedUp, ...translate(turnedUp, 190, 0)]),
  letter('quotedblright', '”', 'open', 'open', [...raised, ...translate(raised, 190, 0)]),
  letter('hyphen', '-', 'open', 'open', [bar(0, 400, 280, 400)]),
  letter('endash', '–', 'open', 'open', [bar(0, 400, 500, 400)]),
  letter('emdash', '—', 'open', 'open', [bar(0, 400, 900, 400)]),
  letter('underscore', '_', 'open', 'open', [bar(0, -150, 500, -150)]),
  letter('parenleft', '(', 'round', 'open', [parenthesis]),
  letter('parenright', ')', 'open', 'round', mirror([parenthesis], 90)),
  letter('bracketleft', '[', 'straight', 'open', [bracket]),
  letter('bracketright', ']', 'open', 'straight', mirror([bracket], 85)),
  glyphOf('slash', '/', 130, 130, [bar(0, -100, 460, CAP)]),
  // Drawn to hang between a raised and a lowered digit, so its bearings may be next to nothing.
  glyphOf('fraction', '⁄', 20, 20, [bar(0, 0, 560, CAP)]),
  letter('ampersand', '&', 'round', 'open', [ampersand]),
  letter('percent', '%', 'round', 'round', [
    oval(130, 780, 130, 220),
    oval(650, 220, 130, 220),
    bar(600, CAP, 180, 0),
  ]),
  letter('asterisk', '*', 'open', 'open', [
    bar(156, 980, 156, 620),
    bar(0, 890, 312, 710),
    bar(0, 710, 312, 890),
  ]),
  letter('numbersign', '#', 'open', 'open', [
    bar(230, 900, 130, 100),
    bar(490, 900, 390, 100),
    bar(40, 640, 620, 640),
    bar(0, 360, 580, 360),
  ]),
  letter('at', '@', 'round', 'round', at),
  letter('periodcentered', '·', 'round', 'round', [dotAt(0, 400)]),
  // A ring and a spot, so that a cut of the design width clears the whole spot.
  letter('bullet', '•', 'round', 'round', [oval(0, 450, 110, 110), spot(0, 450, 50)]),
  letter('ellipsis', '…', 'round', 'round', [onBase(0), onBase(280), onBase(560)]),
  letter('degree', '°', 'round', 'round', [oval(0, 870, 130, 130)]),
  letter('numero', '№', 'straight', 'round', numero),
];

/** Shown where the font has no glyph: a plain box, plainly not a letter. */
export const missing: Glyph = letter('.notdef', '', 'straight', 'straight', [
  pen(0, 0).line(0, CAP).line(500, CAP).line(500, 0).close('sharp'),
]);
