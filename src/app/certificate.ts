import { join } from 'node:path';
import type { Edition } from '../documents/schema/edition.js';
import { labelIndexOf } from '../edition/label-index.js';
import { type Problem, Refusal } from '../problem.js';
import { LONGEST_CHECKPOINT } from '../register/certificate/certificate-form.js';
import {
  makeCertificate,
  type PieceDescription,
  type SignedCertificate,
} from '../register/certificate/make.js';
import { problem, refuse } from '../register/certificate/messages.js';
import { type SoundPiece, soundPieces } from '../register/certificate/sound-pieces.js';
import { digestOf, verifyCertificate } from '../register/certificate/verify.js';
import { proveEvents } from '../register/log/event-proofs.js';
import { readKey } from '../register/log/keys.js';
import { type Checkpoint, type Signer, verifierLine } from '../register/log/note.js';
import type { ManyRequest, StoredEvent } from '../register/register.js';
import { certificatePdf } from '../sheets/certificate.js';
import { certificateFaces } from './certificate-faces.js';
import { drawnNumber, type KnownPart, knownParts, numberMark, sceneOf } from './certificate-scene.js';
import { newestCosigned } from './cosigned.js';
import { currentTerms } from './current-terms.js';
import { isThere } from './disk.js';
import { PROGRAM_NAME } from './enter-programs.js';
import { editionOf } from './open-documents.js';
import { openForEntry } from './open-for-entry.js';
import { signAfter, signLog, type TellProblem } from './sign-log.js';
import { knownByDigest } from './staged-files.js';
import { stage } from './staging.js';
import type { Workshop } from './workshop.js';

/** So many are named: after them the rest says nothing new. */
const MOST_PROBLEMS = 20;

export interface CertificateOrder {
  readonly edition: string;
  readonly labels: readonly string[];
  readonly out: string;
  /** Whether the delivery is shown, and to whom. */
  readonly withDelivery?: boolean;
  /** Who makes them; the program itself when left out. */
  readonly by?: string;
}

export interface WrittenCertificate {
  readonly label: string;
  /** Which certificate of this number it is, from 1. */
  readonly serial: number;
  /** SHA-256 of the file, hex. */
  readonly digest: string;
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
 * Certificates of pieces that are sound, each verified, and entered in the register, before any of them is put in place;
 * `notSigned` gets what kept the log from being signed after. Throws a Refusal: exit 1
 * when the edition does not fit, 2 for a wrong order or without a key, 3 for a piece that is not engraved or is no more.
 */
export async function writeCertificates(
  workshop: Workshop,
  order: CertificateOrder,
  notSigned: TellProblem = () => undefined,
): Promise<CertificatesDone> {
  const edition = editionOf(workshop, order.edition);
  const labels = labelIndexOf(edition, order.edition);
  const register = await openForEntry(workshop);
  const piecesOf = () => soundPieces(register, labels, order.labels, order.withDelivery === true);
  try {
    // Before anything is signed for an order that will be refused.
    const terms = currentTerms(workshop, edition);
    await register.checkTerms(order.edition, terms);
    const asked = (await piecesOf()).map(({ status }) => status.label);
    const number = numberMark(workshop, order.edition, asked);
    const signed = await signLog(workshop, register);
    // Again, as of the checkpoint or later: nothing that it covers of a piece may be missing here.
    const pieces = await piecesOf();
    const recorded = await register.terms(order.edition);
    const amendments = (recorded?.events ?? []).filter(({ event }) => event.type === 'amended');
    const seqs = [...pieces.flatMap(({ events }) => events), ...amendments].map(({ seq }) => seq);
    const signer = (await readKey(workshop.environment.keysFolder, signed.origin))!;
    // What someone outside saw is worth more than what the keeper signs alone, where it covers the same events.
    const checkpoint =
      (await newestCosigned(workshop, signer, Math.max(...seqs), LONGEST_CHECKPOINT)) ?? signed;
    const proofs = await proveEvents(register, seqs, checkpoint.size, checkpoint.root);
    const faces = await certificateFaces();
    const staging = await stage(order.out);
    try {
      // No other process writes there from now on.
      await assertFree(
        order.out,
        pieces.map((piece) => nameOf(order.edition, piece)),
      );
      const certificates: WrittenCertificate[] = [];
      for (const piece of pieces) {
        const parts = knownParts(workshop, edition, piece, recorded);
        const description = describe(workshop, edition, order.edition, piece, parts);
        const made = makeVerified(description, piece, amendments, proofs, checkpoint, signer);
        const name = nameOf(order.edition, piece);
        const pdf = await certificatePdf(
          sceneOf(made, piece, drawnNumber(number, parts), checkpoint, `${name}.json`),
          faces,
        );
        const { label } = piece.status;
        const { serial } = piece;
        const names = { pdf: `${name}.pdf`, json: `${name}.json` };
        const written = { label, serial, digest: digestOf(made.file), ...names };
        const files = [
          { path: written.json, text: [made.file], isPrivate: true },
          { path: written.pdf, ...knownByDigest([pdf]), isPrivate: true },
        ];
        await staging.writeFiles(files.values());
        certificates.push(written);
      }
      const { by = PROGRAM_NAME } = order;
      await staging.publish(async () => {
        const requests = certificates.map((one, i) => certifiedBy(by, order.edition, one, pieces[i]!));
        await register.recordAll(requests, { terms });
        await signAfter(workshop, register, notSigned);
      });
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

/**
 * Made of ids and digits alone: no text from people ever names a file. With the serial, since an earlier certificate of a
 * number stays a certificate, and may have left the house.
 */
const nameOf = (edition: string, { status: { series, number }, serial }: SoundPiece): string =>
  `${edition}-${series}-${String(number).padStart(4, '0')}-${serial}`;

/** Throws a Refusal (exit 3) that names what has the place of a certificate; whose it is does not matter. */
async function assertFree(out: string, names: readonly string[]): Promise<void> {
  const files = names.flatMap((name) => [`${name}.json`, `${name}.pdf`]).map((name) => join(out, name));
  const problems: Problem[] = [];
  for (const file of files)
    if (await isThere(file)) problems.push(problem('certificate.file-there', file, {}));
  if (problems.length > 0) throw new Refusal(problems.slice(0, MOST_PROBLEMS));
}

const certifiedBy = (
  by: string,
  edition: string,
  { serial, digest }: WrittenCertificate,
  { status: { series, number, label } }: SoundPiece,
): ManyRequest => ({ edition, series, number, label, event: 'certified', by, serial, digest });

function describe(
  workshop: Workshop,
  edition: Edition,
  id: string,
  { status, serial }: SoundPiece,
  parts: readonly KnownPart[],
): PieceDescription {
  const series = edition.series.find((s) => s.id === status.series)!;
  return {
    maker: workshop.documents.workshop.maker ?? workshop.documents.workshop.name,
    edition: { id, name: edition.name },
    series: { id: series.id, title: series.title },
    number: status.number,
    ...{ label: status.label, serial },
    parts: parts.map(({ id, name, material }) => ({ id, name, material })),
  };
}

/** Signed, then verified as a stranger would. Throws a Refusal (exit 3) rather than give out a bad one. */
function makeVerified(
  description: PieceDescription,
  { events }: SoundPiece,
  amendments: readonly StoredEvent[],
  proofs: ReadonlyMap<number, Uint8Array[]>,
  checkpoint: Checkpoint & { readonly note: string },
  signer: Signer,
): SignedCertificate {
  const proved = events.map((one) => ({ ...one, proof: proofs.get(one.seq)! }));
  const amended = amendments.map(({ seq, body }) => ({ seq, body, proof: proofs.get(seq)! }));
  const made = makeCertificate(description, proved, amended, checkpoint.note, signer.sign);
  const verdict = verifyCertificate(made.file, verifierLine(signer));
  if (!verdict.ok) {
    const { problems } = verdict;
    throw refuse('certificate.self-check-failed', `label ${description.label}`, { problems });
  }
  return made;
}
