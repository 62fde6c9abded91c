import { composed } from '../compose.js';
import { figures as plainFigures } from '../figures.js';
import { marks, tallCaron } from '../marks.js';
import { moreSigns } from '../more-signs.js';
import { missing, signs } from '../signs.js';
import { capitals } from './capitals.js';
import { figures, smallFigures } from './figures.js';
import { dotlessI, dotlessJ, lower } from './lower.js';
import { X } from './pieces.js';
import { special } from './special.js';

/** Numero with the roman's own N. */
const own = new Set([...figures, ...special].map((g) => g.char));

/** Pairs of the roman set closer than their bearings say: its open capitals leave more room than the sans does. */
const groups: readonly (readonly [left: string, right: string, tighter: number])[] = [
  ['A', 'VWY', 110],
  ['A', 'T', 90],
  ['A', 'CGOQU', 40],
  ['VWY', 'A', 110],
  ['T', 'A', 90],
  ['L', 'TVWY', 110],
  ['L', 'CGOQ', 40],
  ['FP', 'A', 120],
  ['FTVWY', '.,…', 150],
  ['P', '.,…', 50],
  ['TVWY', '-–—', 80],
  ['T', 'aceoqsz', 120],
  ['T', 'ru', 60],
  ['VWY', 'aceoqs', 90],
  ['VWY', 'ru', 40],
  ['R', 'TVWY', 40],
  ['DOQ', 'VWY', 30],
  ['OQ', 'A', 30],
  ['A', '’”', 90],
  ['L', '’”', 150],
  ['r', '.,…', 70],
  ['vwy', '.,…', 80],
  ['V', 'I', 20],
  ['I', 'V', 20],
];

/** Burin Roman: capitals of the Roman inscriptions and an old-face lower case, in single lines, serifs as strokes. */
export const roman = composed({
  id: 'burin-roman',
  family: 'Burin Roman',
  note: 'Burin Roman, a single-line engraving font with serifs.',
  xHeight: X,
  drawn: [
    ...capitals,
    ...lower,
    dotlessI,
    dotlessJ,
    ...special,
    ...figures,
    ...[...plainFigures, ...signs, ...moreSigns].filter((g) => !own.has(g.char)),
  ],
  missing,
  dotlessJ,
  marks,
  tallCaron,
  smallFigures,
  kernGroups: groups,
});
