import type { MarkBlocks } from '../cutting/operation.js';
import type { Edition } from '../documents/schema/edition.js';
import { textDirectionOf } from '../layout/mark-to-fit.js';
import { codeOf } from '../register/certificate/code.js';
import { cutTraceOf } from '../register/certificate/cut-trace.js';
import type { SignedCertificate } from '../register/certificate/make.js';
import type { SoundPiece } from '../register/certificate/sound-pieces.js';
import { registerEvent } from '../register/event.js';
import type { Checkpoint } from '../register/log/note.js';
import type { NamedTerms } from '../register/terms/schema.js';
import type { CertificateScene } from '../sheets/certificate.js';
import type { CutNumber } from '../sheets/certificate-number.js';
import { cutDigest } from './cut-digest.js';
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

/** A part as the register knows it of one piece. */
export interface KnownPart {
  readonly id: string;
  readonly name: string;
  readonly material: string;
  /** Whether today's documents are those that it was cut from. */
  readonly asCut: boolean;
}

/** What is printed where the register proves nothing. */
export const NOT_KNOWN = 'not known';

/**
 * Every part that the edition's designs cut, in their order. The name of a material is today's where the part was cut
 * from today's documents; otherwise the material is as the terms of the edition have it, and not known without them.
 */
export function knownParts(
  workshop: Workshop,
  edition: Edition,
  { history }: SoundPiece,
  terms: NamedTerms | undefined,
): KnownPart[] {
  const { documents } = workshop;
  const ids = new Set(edition.designs.map((id) => documents.designs.get(id)!.part));
  return [...ids].map((id) => {
    const { name, material } = documents.parts.get(id)!;
    const trace = cutTraceOf(history, id);
    const asCut =
      trace?.digest !== undefined && trace.digest === digestOfCut(workshop, edition, id, trace.station);
    const recorded = terms?.terms.parts.find(({ part }) => part === id)?.material;
    return {
      ...{ id, name, asCut },
      material: asCut ? documents.materials.get(material)!.name : (recorded ?? NOT_KNOWN),
    };
  });
}

/** The digest of today's cut; undefined where the station is no more. */
const digestOfCut = (
  workshop: Workshop,
  edition: Edition,
  part: string,
  station: string,
): string | undefined =>
  workshop.documents.stations.has(station) ? cutDigest(workshop, edition, part, station) : undefined;

/** The mark to draw the number from; undefined where the part was not cut from today's documents. */
export const drawnNumber = (number: MarkBlocks, parts: readonly KnownPart[]): MarkBlocks | undefined =>
  parts.some(({ id, asCut }) => asCut && id === number.fitted.of.partId) ? number : undefined;

/** What the page of a certificate shows: nothing that its file does not hold. */
export function sceneOf(
  { certificate, file }: SignedCertificate,
  piece: SoundPiece,
  number: MarkBlocks | undefined,
  { origin, size, root }: Checkpoint,
  name: string,
): CertificateScene {
  return {
    maker: certificate.maker,
    edition: certificate.edition.name,
    series: certificate.series.title,
    label: certificate.label,
    parts: certificate.parts,
    dates: Object.entries(certificate.dates).map(([what, day]) => ({ what, day })),
    ...(certificate.owner !== undefined && { owner: certificate.owner }),
    ...(number && { number: cutNumberOf(number, certificate.label) }),
    ...(certificate.serial !== undefined && { serial: certificate.serial }),
    amendments: (certificate.amendments ?? []).map(({ body }) => amendedOn(body)),
    codes: codeOf(file),
    proves: certificate.proves,
    doesNotProve: certificate.doesNotProve,
    checkpoint: { origin, size, root },
    file: { name, bytes: file },
    at: new Date(piece.events.at(-1)!.event.at),
  };
}

function cutNumberOf({ fitted, blocks }: MarkBlocks, label: string): CutNumber {
  const { surface, cutWidth } = fitted.of;
  return { surface, direction: textDirectionOf(fitted.of), blocks: blocks.get(label) ?? [], cutWidth };
}

/** The day of an amendment. */
const amendedOn = (body: string): string => registerEvent.parse(JSON.parse(body)).at.slice(0, 10);
