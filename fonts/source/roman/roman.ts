import { composeStyle } from '../compose.js';
import { digits as plainDigits } from '../digits.js';
import { marks, tallCaron } from '../marks.js';
import { moreSigns } from '../more-signs.js';
import { missing, signs as plainSigns } from '../signs.js';
import { capitals } from './capitals.js';
import { digits, smallDigits } from './digits.js';
import { groups } from './kerning.js';
import { dotlessI, dotlessJ, lower } from './lower.js';
import { withOldStyleDigits } from './old-style.js';
import { X } from './pieces.js';
import { signs } from './signs.js';
import { special } from './special.js';

/** Signs and digits taken from the sans, but for those drawn here. */
const own = new Set([...digits, ...signs].map((g) => g.char));
const shared = [...plainDigits, ...plainSigns, ...moreSigns].filter((g) => !own.has(g.char));

/** Burin Roman: capitals of the Roman inscriptions and an old-face lower case, in single lines, serifs as strokes. */
export const roman = withOldStyleDigits(
  composeStyle({
    id: 'burin-roman',
    family: 'Burin Roman',
    note: 'Burin Roman, a single-line engraving font with serifs.',
    xHeight: X,
    drawn: [...capitals, ...lower, dotlessI, dotlessJ, ...special, ...digits, ...signs, ...shared],
    missing,
    dotlessJ,
    marks,
    tallCaron,
    smallDigits,
    kernGroups: groups,
  }),
);
