import { digestOf } from '../documents/digest.js';
import type { Edition } from '../documents/schema/edition.js';
import { plannedNumbers } from '../edition/labels.js';
import type { OpenDocuments } from './open-documents.js';

/**
 * The digest (SHA-256, hex) of all documents that decide how a part of an edition is cut on a station: its designs with
 * the artwork they draw, the part, its material, the cutters, the station, and every label, since all of them are fitted
 * as one. What does not decide a cut, such as a price or an approver, leaves it the same.
 */
export function cutDigest(
  { documents, digests }: OpenDocuments,
  edition: Edition,
  partId: string,
  station: string,
): string {
  const designs = edition.designs.filter((id) => documents.designs.get(id)!.part === partId);
  const cutters = new Set(
    designs.flatMap((id) => documents.designs.get(id)!.marks.map(({ cutter }) => cutter)),
  );
  const { material } = documents.parts.get(partId)!;
  const digest = (document: string) => [document, digests.get(document)!];
  return digestOf({
    documents: [
      ...designs.map((id) => digest(`design/${id}`)),
      digest(`part/${partId}`),
      digest(`material/${material}`),
      ...[...cutters].sort().map((id) => digest(`cutter/${id}`)),
      digest(`station/${station}`),
    ],
    labels: plannedNumbers(edition).map(({ series, number, label }) => [series, number, label]),
  });
}
