import type { Cutter } from '../documents/schema/cutter.js';
import type { Material } from '../documents/schema/material.js';

/**
 * One thing to mind at the machine. Sources are cited from memory; a caution without one is common practice, no
 * source.
 */
export interface Caution {
  readonly about: 'always' | 'cutter' | 'material' | 'bench';
  readonly words: string;
  /** Where it is written down. */
  readonly source?: string;
}

type Family = Material['family'];
type Shape = Cutter['shape'];

const ALWAYS: readonly Caution[] = [
  {
    about: 'always',
    words:
      "Follow the machine maker's manual and local codes; what they leave open belongs to licensed practice. This sheet takes the place of neither.",
  },
  {
    about: 'always',
    words:
      'Try the program in the air or on scrap first. Keep a hand on the stop until the first piece is done.',
  },
];

const SPINNING: readonly Caution[] = [
  {
    about: 'cutter',
    words: 'The cutter spins. Wear eye protection; no gloves, loose sleeves, loose hair or jewellery.',
  },
  {
    about: 'cutter',
    words: 'Keep hands out until the spindle has stopped. Clear swarf with a brush, never with fingers.',
  },
];

const BY_SHAPE: Readonly<Record<Shape, readonly Caution[]>> = {
  drag: [
    {
      about: 'cutter',
      words:
        'The point does not spin but is sharp and loaded. Wear eye protection; keep fingers out of the part as it turns.',
    },
  ],
  cone: SPINNING,
  ball: SPINNING,
  flat: SPINNING,
  beam: [
    {
      about: 'cutter',
      words:
        'Beam: run only in a closed, interlocked enclosure, with eye protection made for its wavelength, and draw off the fumes. Never leave it running alone.',
      source: 'IEC 60825-1, Safety of laser products',
    },
  ],
};

const BY_FAMILY: Readonly<Record<Family, readonly Caution[]>> = {
  metal: [
    {
      about: 'material',
      words:
        'Metal and silver dust: draw it off at the cutter, do not blow it about, and wear a dust mask where it is fine. Swarf is sharp and may be hot. Wash before eating.',
    },
  ],
  resin: [
    {
      about: 'material',
      words:
        'Resin dust: draw it off at the cutter and wear a dust mask. Keep the feed up: rubbing heat softens the surface and gives off fumes.',
    },
  ],
  celluloid: [
    {
      about: 'material',
      words:
        'CELLULOID (cellulose nitrate) BURNS FAST AND FEEDS ITS OWN OXYGEN: it cannot be smothered. No heat, spark, flame or beam near it; sharp cutters, light passes.',
      source:
        'Canadian Conservation Institute Notes 15/3, Display and Storage of Museum Objects Containing Cellulose Nitrate; NFPA 40',
    },
    {
      about: 'material',
      words:
        'Keep the swarf wet and apart from all other waste, in small amounts, and take it away each day as local rules say. Never draw it into a dust extractor used for other work. Keep water at hand.',
      source: 'NFPA 40, Storage and Handling of Cellulose Nitrate Film, taken over to swarf',
    },
    {
      about: 'material',
      words:
        'Store pieces cool, dry and aired, away from metals and from other work: it gives off acid vapours.',
      source: 'Canadian Conservation Institute Notes 15/3',
    },
  ],
  ebonite: [
    {
      about: 'material',
      words:
        'Ebonite dust burns, and holds sulphur: draw it off, keep it from sparks, keep the cut cool, and keep it off silver, which it tarnishes.',
    },
  ],
  wood: [
    {
      about: 'material',
      words:
        'Wood dust harms the lungs, nose and skin, some kinds at once: draw it off at the cutter and wear a dust mask. Keep it from sparks.',
      source: 'IARC Monographs 100C, Wood Dust',
    },
  ],
  lacquer: [
    {
      about: 'material',
      words:
        'Lacquer dust irritates, and urushi that is not fully cured brings out a rash: cover the skin, draw the dust off, wear a dust mask.',
    },
  ],
};

/** The usual cautions for a material and a cutter, then the bench's own. */
export function cautionsFor(family: Family, shape: Shape, own: readonly string[]): Caution[] {
  const burning: Caution[] =
    family === 'celluloid' && shape === 'beam'
      ? [{ about: 'material', words: 'STOP: celluloid is never cut with a beam.' }]
      : [];
  return [
    ...burning,
    ...BY_FAMILY[family],
    ...BY_SHAPE[shape],
    ...ALWAYS,
    ...own.map((words): Caution => ({ about: 'bench', words })),
  ];
}
