import type { MarkBlocks } from '../cutting/operation.js';
import type { Edition } from '../documents/schema/edition.js';
import { textDirectionOf } from '../layout/mark-to-fit.js';
import { codeOf } from '../register/certificate/code.js';
import type { SignedCertificate } from '../register/certificate/make.js';
import type { SoundPiece } from '../register/certificate/sound-pieces.js';
import type { Checkpoint } from '../register/log/note.js';
import type { CertificateScene } from '../sheets/certificate.js';
import { fitEdition, fittedOperations } from './fit.js';
import { refuse } from './messages.js';
import type { Workshop } from './workshop.js';

/** The mark that carries the number, from which it is drawn. Throws a Refusal (exit 2) when nothing carries it. */
export function numberMark(workshop: Workshop, editionId: string, labels: readonly string[]): MarkBlocks {
  const all = fittedOperations(fitEdition(workshop, editionId))(labels).flatMap(({ marks }) => marks);
  const found = all.find(({ fitted }) => fitted.mark.kind === 'number');
  if (found) return found;
  throw refuse('app.no-number-mark', `edition ${editionId}`, {});
}

/** Every part the edition's designs cut, and what it is made of, in their order. */
export function partsOf({ documents }: Workshop, edition: Edition) {
  const ids = new Set(edition.designs.map((id) => documents.designs.get(id)!.part));
  return [...ids].map((id) => {
    const { name, material } = documents.parts.get(id)!;
    return { id, name, material: documents.materials.get(material)!.name };
  });
}

/** What the page of a certificate shows: nothing that its file does not hold. */
export function sceneOf(
  { certificate, file }: SignedCertificate,
  piece: SoundPiece,
  number: MarkBlocks,
  { origin, size, root }: Checkpoint,
  name: string,
): CertificateScene {
  const { surface, cutWidth } = number.fitted.of;
  return {
    maker: certificate.maker,
    edition: certificate.edition.name,
    series: certificate.series.title,
    label: certificate.label,
    parts: certificate.parts,
    dates: Object.entries(certificate.dates).map(([what, day]) => ({ what, day })),
    ...(certificate.owner !== undefined && { owner: certificate.owner }),
    number: {
      surface,
      direction: textDirectionOf(number.fitted.of),
      blocks: number.blocks.get(certificate.label) ?? [],
      cutWidth,
    },
    codes: codeOf(file),
    proves: certificate.proves,
    doesNotProve: certificate.doesNotProve,
    checkpoint: { origin, size, root },
    file: { name, bytes: file },
    at: new Date(piece.events.at(-1)!.event.at),
  };
}
