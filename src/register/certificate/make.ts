import type { Told } from './facts.js';
import { datesOf, ownerOf } from './facts.js';
import {
  type Certificate,
  certificate,
  DOES_NOT_PROVE,
  fileOf,
  PROVES,
  signedBytes,
  type Unsigned,
} from './form.js';

/** An event to be shown, with what proves it. */
export interface Proved extends Told {
  readonly body: string;
  /** Inclusion proof in the checkpoint, nearest hash first. */
  readonly proof: readonly Uint8Array[];
}

/** What the documents say of a piece; the rest is read from its events. */
export type Described = Pick<Unsigned, 'maker' | 'edition' | 'series' | 'number' | 'label' | 'parts'>;

export interface Made {
  readonly certificate: Certificate;
  readonly file: Uint8Array;
}

/** A certificate of one piece, signed; not yet verified, which whoever hands it out does first. */
export function makeCertificate(
  described: Described,
  events: readonly Proved[],
  checkpoint: string,
  sign: (message: Uint8Array) => Uint8Array,
): Made {
  const told = events.map(({ event }) => event);
  const owner = ownerOf(told);
  const unsigned = {
    kind: 'certificate',
    version: 1,
    ...described,
    dates: datesOf(told) as Unsigned['dates'],
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
