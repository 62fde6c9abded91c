import type { Edition } from '../documents/schema/edition.js';
import { Refusal } from '../problem.js';
import { type Described, type Made, makeCertificate } from '../register/certificate/make.js';
import { verifyCertificate } from '../register/certificate/verify.js';
import type { MadeCheckpoint } from '../register/log/checkpoint.js';
import { readKey } from '../register/log/keys.js';
import { type Signer, verifierLine } from '../register/log/note.js';
import { openRegister } from '../register/open.js';
import { certificatePdf } from '../sheets/certificate.js';
import { certificateFaces } from './certificate-faces.js';
import { type SoundPiece, soundPieces } from './certificate-pieces.js';
import { numberMark, partsOf, sceneOf } from './certificate-scene.js';
import { registerDeps } from './issue.js';
import { proveEvents } from './prove-event.js';
import { signLog } from './sign-log.js';
import { checkByDigest } from './staged-files.js';
import { stage } from './staging.js';
import { editionOf, registerPlace, type Workshop } from './workshop.js';

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
  const register = await openRegister(registerPlace(workshop), registerDeps);
  try {
    // Before anything is signed for an order that will be refused.
    await soundPieces(register, edition, order);
    const number = numberMark(workshop, order.edition);
    const checkpoint = await signLog(workshop, register);
    // Again, as of the checkpoint or later: nothing that it knows of a piece may be missing here.
    const pieces = await soundPieces(register, edition, order);
    const seqs = pieces.flatMap(({ events }) => events.map(({ seq }) => seq));
    const proofs = await proveEvents(register, seqs, checkpoint.size, checkpoint.root);
    const signer = (await readKey(workshop.environment.keysFolder, checkpoint.origin))!;
    const faces = await certificateFaces();
    const staging = await stage(order.out);
    try {
      const certificates: WrittenCertificate[] = [];
      for (const piece of pieces) {
        const made = checked(
          describe(workshop, edition, order.edition, piece),
          piece,
          proofs,
          checkpoint,
          signer,
        );
        const name = nameOf(piece);
        const pdf = await certificatePdf(sceneOf(made, piece, number, checkpoint, `${name}.json`), faces);
        const written = { label: piece.standing.label, pdf: `${name}.pdf`, json: `${name}.json` };
        const files = [
          { path: written.json, text: [made.file] },
          { path: written.pdf, text: [pdf], check: checkByDigest([pdf]) },
        ];
        await staging.fill(files.values());
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

/** Made of an id and figures alone: no text from people ever names a file. */
const nameOf = ({ standing: { series, number } }: SoundPiece): string =>
  `${series}-${String(number).padStart(4, '0')}`;

function describe(workshop: Workshop, edition: Edition, id: string, { standing }: SoundPiece): Described {
  const series = edition.series.find((s) => s.id === standing.series)!;
  return {
    maker: workshop.documents.workshop.maker ?? workshop.documents.workshop.name,
    edition: { id, name: edition.name },
    series: { id: series.id, title: series.title },
    number: standing.number,
    label: standing.label,
    parts: partsOf(workshop, edition),
  };
}

/** Signed, and then checked as a stranger would check it. Throws a Refusal (exit 3) rather than give out a bad one. */
function checked(
  described: Described,
  { events }: SoundPiece,
  proofs: ReadonlyMap<number, Uint8Array[]>,
  checkpoint: MadeCheckpoint,
  signer: Signer,
): Made {
  const proved = events.map((one) => ({ ...one, proof: proofs.get(one.seq)! }));
  const made = makeCertificate(described, proved, checkpoint.note, signer.sign);
  const verdict = verifyCertificate(made.file, verifierLine(signer));
  if (!verdict.ok) throw new Refusal(3, verdict.problems);
  return made;
}
