/**
 * A text in chunks, in order. A chunk that many files share is encoded as UTF-8 once and used by all of them; what
 * differs from file to file stays a string. The chunks of a long text are made as they are read.
 */
export type TextChunks = Iterable<string | Uint8Array>;

/** Text that many files share, encoded as UTF-8. */
export const encodeText = (text: string): Uint8Array => Buffer.from(text, 'utf8');

/** All chunks as one string. */
export const joinChunks = (chunks: TextChunks): string =>
  Array.from(chunks, (chunk) =>
    typeof chunk === 'string' ? chunk : Buffer.from(chunk).toString('utf8'),
  ).join('');

/** Long texts are encoded and written in parts of about this many characters or bytes, so that no other is held. */
const PART_LENGTH = 1 << 20;

/**
 * All chunks as bytes, in parts for one gathered write each; chunks that are encoded already are not copied. Most texts
 * are one part; of a long one, each is made when the one before it is done with.
 */
export function* encodeParts(chunks: TextChunks): Generator<Uint8Array[]> {
  let part: Uint8Array[] = [];
  let bytes = 0;
  let text = '';
  const flush = () => {
    if (text !== '') part.push(Buffer.from(text, 'utf8'));
    text = '';
  };
  for (const chunk of chunks) {
    if (typeof chunk === 'string') text += chunk;
    else {
      flush();
      part.push(chunk);
    }
    bytes += chunk.length;
    if (bytes < PART_LENGTH) continue;
    flush();
    yield part;
    part = [];
    bytes = 0;
  }
  flush();
  if (part.length > 0) yield part;
}

/** All parts at once. */
export const encodeChunks = (chunks: TextChunks): Uint8Array[] => [...encodeParts(chunks)].flat();
