import { type Glyph, letter } from '../glyph.js';
import { CAP, TAIL } from '../metrics.js';
import { bar, east, north, oval, pen, type Stroke, south, west } from '../pen.js';
import { bowl } from './lower.js';
import { beak, flag, foot, serif, tick, X } from './pieces.js';

const FULL = 1.03;

const smallE = (x: number): Stroke =>
  pen(x, 390)
    .line(x + 400, 390)
    .corner(north)
    .curve(x + 210, X, west, FULL)
    .curve(x, 390, south, FULL)
    .curve(x + 225, 0, east, FULL)
    .curve(x + 390, 110, 52)
    .end();

/** Letters of Latin-1 and Latin Extended-A that are no other letter with a mark. */
export const special: readonly Glyph[] = [
  letter('AE', 'Æ', 'open', 'open', [
    pen(0, 0).line(500, CAP).line(920, CAP).end(),
    pen(500, CAP).line(500, 0).line(950, 0).end(),
    bar(500, 530, 850, 530),
    beak(850, 530, 60, 60),
    bar(170, 340, 500, 340),
    serif(0, 0, 75, 95),
    tick(920, CAP, -130),
    tick(950, 0, 140),
  ]),
  letter('OE', 'Œ', 'round', 'open', [
    pen(980, CAP).line(460, CAP).curve(0, 500, south).curve(460, 0, east).line(1010, 0).end(),
    bar(560, CAP, 560, 0),
    bar(560, 530, 900, 530),
    beak(900, 530, 60, 60),
    tick(980, CAP, -130),
    tick(1010, 0, 140),
  ]),
  letter('ae', 'æ', 'round', 'round', [
    pen(45, 540, 66).curve(195, X, east).curve(370, 480, south, FULL).line(370, 390).end(),
    pen(370, 400, 188).curve(0, 165, south, FULL).curve(150, 0, east, FULL).curve(370, 390, north, 0.9).end(),
    smallE(370),
  ]),
  letter('oe', 'œ', 'round', 'round', [oval(230, X / 2, 230, X / 2, FULL), smallE(460)]),
  letter('Thorn', 'Þ', 'open', 'round', [
    bar(0, CAP, 0, 0),
    pen(0, 790).line(250, 790).curve(490, 525, south).curve(250, 260, west).line(0, 260).end(),
    serif(0, CAP),
    serif(0, 0),
  ]),
  letter('thorn', 'þ', 'open', 'round', [bar(0, CAP, 0, TAIL), bowl, flag(0, CAP), foot(0, TAIL)]),
  letter('germandbls', 'ß', 'open', 'round', [
    pen(0, 0)
      .line(0, 760)
      .curve(200, CAP, east)
      .curve(380, 810, south)
      .curve(220, 570, 200)
      .corner(350)
      .curve(440, 285, south, FULL)
      .curve(255, 0, west, FULL)
      .curve(185, 22, 156)
      .end(),
    foot(0, 0, 70, 0),
  ]),
  letter('Germandbls', 'ẞ', 'open', 'round', [
    pen(0, 0)
      .line(0, 700)
      .curve(280, CAP, east)
      .line(570, CAP)
      .line(300, 590)
      .corner(352)
      .curve(570, 290, south)
      .curve(320, 0, west)
      .curve(190, 25, 155)
      .end(),
    serif(0, 0, 80, 0),
  ]),
  letter('eth', 'ð', 'round', 'round', [
    oval(230, 315, 230, 315, FULL),
    pen(110, CAP, 335).curve(460, 315, south).end(),
    bar(90, 760, 390, 930),
  ]),
  letter('longs', 'ſ', 'open', 'open', [
    pen(385, 935, 130).curve(275, CAP, west).curve(120, 800, south, FULL).line(120, 0).end(),
    bar(20, X, 120, X),
    foot(120),
  ]),
  letter('kgreenlandic', 'ĸ', 'open', 'open', [
    bar(0, X, 0, 0),
    bar(360, X, 0, 290),
    bar(112, 405, 430, 0),
    flag(0, X),
    foot(0),
    foot(360, X, 75, 60),
    foot(430, 0, 65, 65),
  ]),
  letter('Eng', 'Ŋ', 'open', 'open', [
    pen(0, 0).line(0, CAP).line(740, 0).end(),
    pen(740, CAP).line(740, -60).curve(560, TAIL, west, FULL).curve(470, -280, 160).end(),
    serif(0, 0),
    bar(-95, CAP, 0, CAP),
    serif(740, CAP),
  ]),
  letter('eng', 'ŋ', 'open', 'open', [
    bar(0, X, 0, 0),
    pen(0, 480, 66)
      .curve(230, X, east)
      .curve(410, 430, south, FULL)
      .line(410, -110)
      .curve(235, TAIL, west, FULL)
      .curve(150, -285, 162)
      .end(),
    flag(0, X),
    foot(0),
  ]),
];
