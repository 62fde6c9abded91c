/**
 * A text in chunks, in order. A chunk that many files share is encoded as UTF-8 once and used by all of them; what
 * differs from file to file stays a string.
 */
export type TextChunks = readonly (string | Uint8Array)[];

/** Text that many files share, encoded as UTF-8. */
export const encodeText = (text: string): Uint8Array => Buffer.from(text, 'utf8');

/** All chunks as one string. */
export const joinChunks = (chunks: TextChunks): string =>
  chunks.map((chunk) => (typeof chunk === 'string' ? chunk : Buffer.from(chunk).toString('utf8'))).join('');

/** Strings are encoded in parts of about this many characters, so that a long text is never also one long string. */
const PART_LENGTH = 1 << 20;

/** All chunks as bytes, for one gathered write; chunks that are encoded already are not copied. */
export function encodeChunks(chunks: TextChunks): Uint8Array[] {
  const out: Uint8Array[] = [];
  let text = '';
  const flush = () => {
    if (text !== '') out.push(Buffer.from(text, 'utf8'));
    text = '';
  };
  for (const chunk of chunks) {
    if (typeof chunk === 'string') {
      text += chunk;
      if (text.length >= PART_LENGTH) flush();
      continue;
    }
    flush();
    out.push(chunk);
  }
  flush();
  return out;
}
