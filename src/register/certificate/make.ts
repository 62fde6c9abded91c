import { datesOf, ownerOf, type PlacedEvent } from './facts.js';
import {
  type Certificate,
  certificate,
  DOES_NOT_PROVE,
  fileOf,
  PROVES,
  signedBytes,
  type Unsigned,
} from './form.js';

/** An event to be shown, with its proof. */
export interface ProvedEvent extends PlacedEvent {
  readonly body: string;
  /** Inclusion proof in the checkpoint, nearest hash first. */
  readonly proof: readonly Uint8Array[];
}

/** What the documents say about a piece; the rest is read from its events. */
export type PieceDescription = Pick<Unsigned, 'maker' | 'edition' | 'series' | 'number' | 'label' | 'parts'>;

export interface SignedCertificate {
  readonly certificate: Certificate;
  readonly file: Uint8Array;
}

/** A certificate of one piece, signed. Whoever hands it out verifies it first. */
export function makeCertificate(
  description: PieceDescription,
  events: readonly ProvedEvent[],
  checkpoint: string,
  sign: (message: Uint8Array) => Uint8Array,
): SignedCertificate {
  const owner = ownerOf(events);
  const unsigned = {
    kind: 'certificate',
    version: 1,
    ...description,
    dates: datesOf(events) as Unsigned['dates'],
    ...(owner !== undefined && { owner }),
    events: events.map(({ seq, body, proof }) => ({ seq, body, proof: proof.map(base64) })),
    checkpoint,
    proves: PROVES,
    doesNotProve: DOES_NOT_PROVE,
  } satisfies Unsigned;
  const made = certificate.parse({ ...unsigned, signature: base64(sign(signedBytes(unsigned))) });
  return { certificate: made, file: fileOf(made) };
}

const base64 = (bytes: Uint8Array): string => Buffer.from(bytes).toString('base64');
