import type { Edition } from '../documents/schema/edition.js';
import { labelIndexOf } from '../edition/label-index.js';
import {
  makeCertificate,
  type PieceDescription,
  type SignedCertificate,
} from '../register/certificate/make.js';
import { refuse } from '../register/certificate/messages.js';
import { type SoundPiece, soundPieces } from '../register/certificate/sound-pieces.js';
import { verifyCertificate } from '../register/certificate/verify.js';
import type { MadeCheckpoint } from '../register/log/checkpoint.js';
import { proveEvents } from '../register/log/event-proofs.js';
import { readKey } from '../register/log/keys.js';
import { type Signer, verifierLine } from '../register/log/note.js';
import { openRegister } from '../register/open.js';
import { certificatePdf } from '../sheets/certificate.js';
import { certificateFaces } from './certificate-faces.js';
import { numberMark, partsOf, sceneOf } from './certificate-scene.js';
import { currentTerms } from './current-terms.js';
import { editionOf, registerPlace } from './open-documents.js';
import { registerDeps } from './register-deps.js';
import { signLog } from './sign-log.js';
import { checkByDigest } from './staged-files.js';
import { stage } from './staging.js';
import type { Workshop } from './workshop.js';

export interface CertificateOrder {
  readonly edition: string;
  readonly labels: readonly string[];
  readonly out: string;
  /** Whether the delivery is shown, and to whom. */
  readonly withDelivery?: boolean;
}

export interface WrittenCertificate {
  readonly label: string;
  /** Below the output folder. */
  readonly pdf: string;
  readonly json: string;
}

export interface CertificatesDone {
  readonly ok: true;
  readonly edition: string;
  readonly out: string;
  readonly checkpoint: { readonly origin: string; readonly size: number };
  readonly certificates: readonly WrittenCertificate[];
}

/**
 * Certificates of pieces that are sound, each verified before any of them is put in place. Throws a Refusal: exit 1
 * when the edition does not fit, 2 for a wrong order or without a key, 3 for a piece that is not engraved or is no more.
 */
export async function writeCertificates(
  workshop: Workshop,
  order: CertificateOrder,
): Promise<CertificatesDone> {
  const edition = editionOf(workshop, order.edition);
  const labels = labelIndexOf(edition, order.edition);
  const register = await openRegister(registerPlace(workshop), registerDeps);
  const piecesOf = () => soundPieces(register, labels, order.labels, order.withDelivery === true);
  try {
    // Before anything is signed for an order that will be refused.
    await register.checkTerms(order.edition, currentTerms(workshop, edition));
    const asked = (await piecesOf()).map(({ status }) => status.label);
    const number = numberMark(workshop, order.edition, asked);
    const checkpoint = await signLog(workshop, register);
    // Again, as of the checkpoint or later: nothing that it covers of a piece may be missing here.
    const pieces = await piecesOf();
    const seqs = pieces.flatMap(({ events }) => events.map(({ seq }) => seq));
    const proofs = await proveEvents(register, seqs, checkpoint.size, checkpoint.root);
    const signer = (await readKey(workshop.environment.keysFolder, checkpoint.origin))!;
    const faces = await certificateFaces();
    const staging = await stage(order.out);
    try {
      const certificates: WrittenCertificate[] = [];
      for (const piece of pieces) {
        const made = makeVerified(
          describe(workshop, edition, order.edition, piece),
          piece,
          proofs,
          checkpoint,
          signer,
        );
        const name = nameOf(piece);
        const pdf = await certificatePdf(sceneOf(made, piece, number, checkpoint, `${name}.json`), faces);
        const written = { label: piece.status.label, pdf: `${name}.pdf`, json: `${name}.json` };
        const files = [
          { path: written.json, text: [made.file] },
          { path: written.pdf, text: [pdf], check: checkByDigest([pdf]) },
        ];
        await staging.writeFiles(files.values());
        certificates.push(written);
      }
      await staging.publish();
      const { origin, size } = checkpoint;
      const { out } = order;
      return { ok: true, edition: order.edition, out, checkpoint: { origin, size }, certificates };
    } catch (error) {
      await staging.discard();
      throw error;
    }
  } finally {
    await register.close();
  }
}

/** Made of an id and digits alone: no text from people ever names a file. */
const nameOf = ({ status: { series, number } }: SoundPiece): string =>
  `${series}-${String(number).padStart(4, '0')}`;

function describe(
  workshop: Workshop,
  edition: Edition,
  id: string,
  { status }: SoundPiece,
): PieceDescription {
  const series = edition.series.find((s) => s.id === status.series)!;
  return {
    maker: workshop.documents.workshop.maker ?? workshop.documents.workshop.name,
    edition: { id, name: edition.name },
    series: { id: series.id, title: series.title },
    number: status.number,
    label: status.label,
    parts: partsOf(workshop, edition),
  };
}

/** Signed, then verified as a stranger would. Throws a Refusal (exit 3) rather than give out a bad one. */
function makeVerified(
  description: PieceDescription,
  { events }: SoundPiece,
  proofs: ReadonlyMap<number, Uint8Array[]>,
  checkpoint: MadeCheckpoint,
  signer: Signer,
): SignedCertificate {
  const proved = events.map((one) => ({ ...one, proof: proofs.get(one.seq)! }));
  const made = makeCertificate(description, proved, checkpoint.note, signer.sign);
  const verdict = verifyCertificate(made.file, verifierLine(signer));
  if (!verdict.ok) {
    const { problems } = verdict;
    throw refuse('certificate.self-check-failed', `label ${description.label}`, { problems });
  }
  return made;
}
