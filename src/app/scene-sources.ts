import type { Edition } from '../documents/schema/edition.js';
import type { Numbered } from '../edition/labels.js';
import type { SceneSources } from '../sheets/edition-scenes.js';
import type { Workshop } from './workshop.js';

/** What the pictures of an edition take from its workshop. */
export function sceneSources(
  { documents, digests }: Workshop,
  edition: Edition,
  planned: readonly Numbered[],
): SceneSources {
  const { workshop, designs, cutters, materials } = documents;
  const named = [...designs].map(
    ([id, { name }]) => [id, { name, digest: digests.get(`design/${id}`)! }] as const,
  );
  return { bench: workshop.name, edition, planned, designs: new Map(named), cutters, materials };
}
