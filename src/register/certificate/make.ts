import {
  CERTIFICATE_VERSION,
  type Certificate,
  certificate,
  DOES_NOT_PROVE,
  fileOf,
  PROVES,
  signedBytes,
  type Unsigned,
} from './certificate-form.js';
import { datesOf, ownerOf, type PlacedEvent } from './facts.js';

/** An event to be shown, with its proof. */
export interface ProvedEvent extends PlacedEvent {
  readonly body: string;
  /** Inclusion proof in the checkpoint, nearest hash first. */
  readonly proof: readonly Uint8Array[];
}

/** What the documents say about a piece; the rest is read from its events. */
export type PieceDescription = Pick<
  Unsigned,
  'maker' | 'edition' | 'series' | 'number' | 'label' | 'serial' | 'parts'
>;

/** An event of the edition as a whole, with its proof. */
export type ProvedAmendment = Omit<ProvedEvent, 'event'>;

export interface SignedCertificate {
  readonly certificate: Certificate;
  readonly file: Uint8Array;
}

/** A certificate of one piece, signed. Whoever hands it out verifies it first. */
export function makeCertificate(
  description: PieceDescription,
  events: readonly ProvedEvent[],
  amendments: readonly ProvedAmendment[],
  checkpoint: string,
  sign: (message: Uint8Array) => Uint8Array,
): SignedCertificate {
  const owner = ownerOf(events);
  const unsigned = {
    kind: 'certificate',
    version: CERTIFICATE_VERSION,
    ...description,
    dates: datesOf(events) as Unsigned['dates'],
    ...(owner !== undefined && { owner }),
    events: events.map(provedText),
    ...(amendments.length > 0 && { amendments: amendments.map(provedText) }),
    checkpoint,
    proves: PROVES,
    doesNotProve: DOES_NOT_PROVE,
  } satisfies Unsigned;
  const made = certificate.parse({ ...unsigned, signature: base64(sign(signedBytes(unsigned))) });
  return { certificate: made, file: fileOf(made) };
}

const provedText = ({ seq, body, proof }: ProvedAmendment) => ({ seq, body, proof: proof.map(base64) });

const base64 = (bytes: Uint8Array): string => Buffer.from(bytes).toString('base64');
