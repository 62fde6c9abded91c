import type { Sound } from './read-document.js';
import type { Kind } from './schemas.js';

/** The documents of one kind: those that passed, and the ids of all there are, sound or not. */
export interface ParsedOfKind<K extends Kind> {
  readonly sound: Map<string, Sound<K>>;
  readonly ids: Set<string>;
}

/** A workshop folder as read, before documents are checked against one another. */
export interface ParsedDocuments {
  readonly workshop: Sound<'workshop'> | undefined;
  readonly part: ParsedOfKind<'part'>;
  readonly material: ParsedOfKind<'material'>;
  readonly cutter: ParsedOfKind<'cutter'>;
  readonly station: ParsedOfKind<'station'>;
  readonly design: ParsedOfKind<'design'>;
  readonly edition: ParsedOfKind<'edition'>;
}
