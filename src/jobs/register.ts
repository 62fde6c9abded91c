import { type Numbered, planned } from '../edition/labels.js';
import { type Bench, editionOf } from './bench.js';
import { standingsOf } from './select.js';

export interface NumberState extends Numbered {
  readonly state: string;
}

/** Every number of an edition, planned ones included, in the edition's order. */
export async function registerOf(bench: Bench, editionId: string): Promise<NumberState[]> {
  const edition = editionOf(bench, editionId);
  const known = await standingsOf(bench, editionId);
  return planned(edition).map((n) => ({ ...n, state: known.get(n.label)?.state ?? 'planned' }));
}
