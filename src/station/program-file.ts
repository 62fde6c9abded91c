import type { Problem } from '../problem.js';
import { problem } from './messages.js';
import type { ProgramHead } from './program.js';
import type { ProvedBlock } from './prove.js';
import { HEAD_KEYS, headOf, type ReadHead, readRemark } from './reader-head.js';
import { remarkWords } from './remark.js';

/** What the bytes of one piece's program must be. */
export interface ExpectedProgram {
  readonly head: ProgramHead;
  /** The lines between the head and the first block, under which the blocks were proved. */
  readonly opening: Uint8Array;
  /** The proved blocks of the piece, in cutting order. */
  readonly blocks: readonly ProvedBlock[];
  readonly closing: Uint8Array;
}

/** Where each fact of the head stands among what the program was written for. */
const FACTS: Readonly<Record<(typeof HEAD_KEYS)[number], keyof ProgramHead>> = {
  edition: 'edition',
  label: 'label',
  design: 'digest',
  part: 'part',
  surface: 'surface',
  cutter: 'cutter',
  'set-up': 'setup',
  documents: 'documents',
};

/**
 * Holds the bytes of a program against the piece it is for; undefined when they are right. The head is read and each
 * fact compared; then follow, byte for byte and with nothing between, the opening, the proved blocks in order, and the
 * closing. A block begins and ends in the state that the opening makes (`proveBlock` holds it to that), so in this
 * sequence each begins in the state in which it was proved.
 */
export function checkProgramFile(bytes: Uint8Array, expected: ExpectedProgram): Problem | undefined {
  const buffer = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const headLength = lengthOfLines(buffer, HEAD_KEYS.length);
  const head = headIn(buffer.subarray(0, headLength));
  if (!head) return problem('station.file-head-unreadable', '', {});
  for (const key of HEAD_KEYS) {
    const wanted = remarkWords(expected.head[FACTS[key]]);
    if (head[key] !== wanted)
      return problem('station.file-head-differs', '', { key, found: head[key], expected: wanted });
  }
  let at = headLength;
  const follows = (part: Uint8Array): boolean => {
    const end = at + part.length;
    if (end > buffer.length || buffer.compare(part, 0, part.length, at, end) !== 0) return false;
    at = end;
    return true;
  };
  if (!follows(expected.opening)) return problem('station.file-opening-differs', '', {});
  for (const [k, block] of expected.blocks.entries())
    if (!follows(block.text))
      return problem('station.file-block-differs', '', { index: k + 1, name: block.name });
  if (!follows(expected.closing) || at !== buffer.length)
    return problem('station.file-closing-differs', '', {});
  return undefined;
}

/** How many bytes the first `count` lines take, line feeds and all; the whole where there are fewer. */
function lengthOfLines(buffer: Buffer, count: number): number {
  let at = 0;
  for (let k = 0; k < count; k++) {
    const end = buffer.indexOf(0x0a, at);
    if (end < 0) return buffer.length;
    at = end + 1;
  }
  return at;
}

/** Latin letters keep every byte a character, so that no byte can hide. */
function headIn(bytes: Buffer): ReadHead | undefined {
  const lines = bytes.toString('latin1').split('\n');
  return lines.pop() === '' ? headOf(lines.map(readRemark)) : undefined;
}
