import type { Sound } from './read.js';
import type { Kind } from './schemas.js';

/** The documents of one kind: those that passed, and the ids of all there are, sound or not. */
export interface Shelf<K extends Kind> {
  readonly sound: Map<string, Sound<K>>;
  readonly ids: Set<string>;
}

/** A workshop folder as read, before documents are checked against one another. */
export interface Shelves {
  readonly workshop: Sound<'workshop'> | undefined;
  readonly part: Shelf<'part'>;
  readonly material: Shelf<'material'>;
  readonly cutter: Shelf<'cutter'>;
  readonly station: Shelf<'station'>;
  readonly design: Shelf<'design'>;
  readonly edition: Shelf<'edition'>;
}
