import { isUtf8 } from 'node:buffer';
import type { Problem } from '../problem.js';
import { problem } from './messages.js';
import { codePointName } from './quote.js';

/** No document of a workshop comes near this; a larger file is refused before it is read. */
export const LARGEST_BYTES = 1_000_000;

/**
 * What YAML 1.2 section 5.1 leaves out of its printable characters, below the surrogates. A carriage return
 * alone is let by the standard but not here: editors count its lines differently, and a place would mislead.
 */
const UNPRINTABLE =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is being looked for
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f\u0080-\u0084\u0086-\u009f\ufffe\uffff]|\r(?!\n)/;

export type Text = { ok: true; text: string } | { ok: false; problems: Problem[] };

const failure = (problem: Problem): Text => ({ ok: false, problems: [problem] });

/** The text of a document's bytes. `file` is the document's path inside the workshop. */
export function readText(file: string, bytes: Uint8Array): Text {
  const top = `${file}:1:1`;
  if (bytes.length === 0) return failure(problem('documents.file-empty', top, {}));
  if (bytes.length > LARGEST_BYTES) {
    return failure(problem('documents.file-too-large', file, { mb: 1 }));
  }
  const [a, b, c] = bytes;
  if ((a === 0xff && b === 0xfe) || (a === 0xfe && b === 0xff)) {
    return failure(problem('documents.file-utf16', top, {}));
  }
  if (a === 0xef && b === 0xbb && c === 0xbf) {
    return failure(problem('documents.file-byte-order-mark', top, {}));
  }
  if (!isUtf8(bytes)) return failure(problem('documents.file-not-utf8', placeOfBadByte(file, bytes), {}));
  const text = new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes);
  const found = UNPRINTABLE.exec(text);
  if (found) {
    const where = `${file}:${placeIn(text, found.index)}`;
    if (found[0] === '\r') return failure(problem('documents.line-end', where, {}));
    const character = codePointName(found[0]);
    return failure(problem('documents.control-character', where, { character }));
  }
  return { ok: true, text };
}

/** `line:column`, both from 1, as editors count them. */
function placeIn(text: string, index: number): string {
  const before = text.slice(0, index);
  return `${before.split('\n').length}:${index - before.lastIndexOf('\n')}`;
}

function placeOfBadByte(file: string, bytes: Uint8Array): string {
  let line = 1;
  let start = 0;
  while (start < bytes.length) {
    const feed = bytes.indexOf(0x0a, start);
    const end = feed < 0 ? bytes.length : feed;
    const row = bytes.subarray(start, end);
    if (!isUtf8(row)) return `${file}:${line}:${goodStart(row) + 1}`;
    line += 1;
    start = end + 1;
  }
  return `${file}:1:1`;
}

/** How many UTF-16 units of a row decode before its first bad byte. */
function goodStart(row: Uint8Array): number {
  let low = 0;
  let high = row.length;
  const soundTo = (n: number): boolean => {
    // a cut inside a character is no fault: let up to three bytes of it be missing
    for (let back = 0; back <= 3 && back <= n; back++) if (isUtf8(row.subarray(0, n - back))) return true;
    return false;
  };
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if (soundTo(middle)) low = middle;
    else high = middle - 1;
  }
  while (low > 0 && !isUtf8(row.subarray(0, low))) low -= 1;
  return new TextDecoder('utf-8', { ignoreBOM: true }).decode(row.subarray(0, low)).length;
}
