import type { Cutter } from './schema/cutter.js';
import type { Design } from './schema/design.js';
import type { Edition } from './schema/edition.js';
import type { Material } from './schema/material.js';
import type { Part } from './schema/part.js';
import type { Station } from './schema/station.js';
import type { Workshop } from './schema/workshop.js';

/**
 * A whole workshop folder as typed values: each noun by the id its file name gives. Values here have passed their
 * schemas and every check between documents (a design's part exists, a clip lies on its part, ...).
 */
export interface WorkshopDocuments {
  readonly workshop: Workshop;
  readonly parts: ReadonlyMap<string, Part>;
  readonly materials: ReadonlyMap<string, Material>;
  readonly cutters: ReadonlyMap<string, Cutter>;
  readonly stations: ReadonlyMap<string, Station>;
  readonly designs: ReadonlyMap<string, Design>;
  readonly editions: ReadonlyMap<string, Edition>;
}
