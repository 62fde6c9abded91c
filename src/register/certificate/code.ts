import { inflateRawSync } from 'node:zlib';
import { deflateSync } from 'fflate';
import type { Problem } from '../../problem.js';
import { fromBase45, toBase45 } from './base45.js';
import { LARGEST_CERTIFICATE } from './certificate-form.js';
import { problem } from './messages.js';

/**
 * A certificate as the text of one or more QR symbols: its bytes deflated (RFC 1951), written in base45 (RFC 9285) and
 * cut into parts. Each part is `BURIN1:2/3:...` and a closing full stop, so that neither its place nor its ends can be
 * lost when it is copied by hand.
 */
const HEAD = 'BURIN1';

/** Longest text of one symbol: version 30 at level M of ISO/IEC 18004 holds 1994 alphanumeric characters. */
export const LONGEST_PART = 1994;
const WRAP = `${HEAD}:99/99:.`.length;
/** No certificate within its limits needs more. */
const MOST_PARTS = 40;

/** Compressed by a library and not by the runtime: its bytes are the same on every machine. */
export function codeOf(certificate: Uint8Array): string[] {
  const text = toBase45(deflateSync(certificate, { level: 9 }));
  const count = Math.max(1, Math.ceil(text.length / (LONGEST_PART - WRAP)));
  const each = Math.ceil(text.length / count);
  return Array.from(
    { length: count },
    (_, i) => `${HEAD}:${i + 1}/${count}:${text.slice(i * each, (i + 1) * each)}.`,
  );
}

/** Does a file hold the text of codes rather than a certificate itself? */
export const isCode = (text: string): boolean => text.trimStart().startsWith(`${HEAD}:`);

export type FromCode = { ok: true; bytes: Uint8Array } | { ok: false; problem: Problem };

const WHERE = 'certificate code';

/** The certificate from the text of its symbols: one line each, in any order; one may be there twice. */
export function fromCode(text: string): FromCode {
  const failed = (found: Problem): FromCode => ({ ok: false, problem: found });
  const parts = new Map<number, string>();
  let count: number | undefined;
  for (const line of text.split(/\r?\n/).filter((one) => one.trim() !== '')) {
    const read = new RegExp(`^\\s*${HEAD}:(\\d{1,2})/(\\d{1,2}):([^]*)\\.\\s*$`).exec(line);
    if (!read) return failed(problem('certificate.code-line', WHERE, {}));
    const [place, of] = [Number(read[1]), Number(read[2])];
    if (of < 1 || of > MOST_PARTS || place < 1 || place > of || (count ?? of) !== of)
      return failed(problem('certificate.codes-mixed', WHERE, {}));
    if ((parts.get(place) ?? read[3]!) !== read[3]!)
      return failed(problem('certificate.code-twice', WHERE, { place }));
    count = of;
    parts.set(place, read[3]!);
  }
  if (count === undefined) return failed(problem('certificate.code-none', WHERE, {}));
  const missing = Array.from({ length: count }, (_, i) => i + 1).find((place) => !parts.has(place));
  if (missing !== undefined)
    return failed(problem('certificate.code-missing', WHERE, { place: missing, count }));
  const packed = fromBase45(Array.from({ length: count }, (_, i) => parts.get(i + 1)!).join(''));
  if (!packed) return failed(problem('certificate.code-characters', WHERE, {}));
  try {
    return { ok: true, bytes: inflateRawSync(packed, { maxOutputLength: LARGEST_CERTIFICATE }) };
  } catch {
    return failed(problem('certificate.code-damaged', WHERE, {}));
  }
}
