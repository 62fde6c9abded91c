import { capitals } from './capitals.js';
import { composeStyle } from './compose.js';
import { digits } from './digits.js';
import { groups } from './kerning.js';
import { dotlessI, lower } from './lower.js';
import { marks, tallCaron } from './marks.js';
import { X_HEIGHT } from './metrics.js';
import { moreSigns } from './more-signs.js';
import { aim, east, oval, pen, south } from './pen.js';
import { missing, signs } from './signs.js';
import { dotlessJ, special } from './special.js';

/** Burin Plain: an upright single-line sans for numbering and short inscriptions at small sizes. */
export const plain = composeStyle({
  id: 'burin-plain',
  family: 'Burin Plain',
  note: 'Burin Plain, a single-line engraving font.',
  xHeight: X_HEIGHT,
  drawn: [...capitals, ...lower, dotlessI, dotlessJ, ...special, ...digits, ...signs, ...moreSigns],
  missing,
  dotlessJ,
  marks,
  tallCaron,
  smallDigits: [
    [oval(240, X_HEIGHT / 2, 240, X_HEIGHT / 2, 1.06)],
    [pen(0, 560).line(150, X_HEIGHT).line(150, 0).end()],
    [
      pen(10, 540, 78)
        .curve(205, X_HEIGHT, east)
        .curve(390, 530, south)
        .curve(310, 330, aim(310, 330, 0, 0))
        .line(0, 0)
        .line(415, 0)
        .end(),
    ],
  ],
  kernGroups: groups,
});
