import { cutter } from './schema/cutter.js';
import { design } from './schema/design.js';
import { edition } from './schema/edition.js';
import { material } from './schema/material.js';
import { part } from './schema/part.js';
import { station } from './schema/station.js';
import { workshop } from './schema/workshop.js';

/** The schema of each noun, by its `kind:`. */
export const schemas = { workshop, part, material, cutter, station, design, edition } as const;

export type Kind = keyof typeof schemas;

/** The folder each noun lives in; the workshop itself is one file. */
export const folders = {
  part: 'parts',
  material: 'materials',
  cutter: 'cutters',
  station: 'stations',
  design: 'designs',
  edition: 'editions',
} as const satisfies Record<Exclude<Kind, 'workshop'>, string>;
