import { open } from 'node:fs/promises';
import { Refusal, refuse } from '../problem.js';
import { fromCode, isCode } from '../register/certificate/code.js';
import { dayOf } from '../register/certificate/facts.js';
import { LARGEST_CERTIFICATE } from '../register/certificate/form.js';
import { type Verified, verifyCertificate } from '../register/certificate/verify.js';
import { type NumberEvent, registerEvent } from '../register/event.js';
import { diskProblem } from './disk.js';

export interface VerifyOrder {
  /** A certificate, or the text of its codes, one a line. */
  readonly file: string;
  /** The file of the maker's public key. */
  readonly key: string;
}

/**
 * Checks a certificate with the maker's public key and nothing else: no workshop, no register, no network. Throws a
 * Refusal: exit 1 with every reason it is refused for, 2 when a file cannot be read.
 */
export async function verifyFile({ file, key }: VerifyOrder): Promise<Verified> {
  const line = (await bytesOf(key, 4096)).toString('utf8');
  const bytes = await bytesOf(file, LARGEST_CERTIFICATE);
  if (bytes.subarray(0, 5).toString('latin1') === '%PDF-') {
    const cure = 'Give the .json file beside or inside it, or the text of its codes in a file.';
    throw refuse(2, file, 'It is the page of a certificate, not what the proof is in.', cure);
  }
  const verdict = verifyCertificate(certificateIn(bytes), line);
  if (!verdict.ok) throw new Refusal(1, verdict.problems);
  return verdict.what;
}

function certificateIn(bytes: Buffer): Uint8Array {
  const text = bytes.toString('utf8');
  if (!isCode(text)) return bytes;
  const read = fromCode(text);
  if (read.ok) return read.bytes;
  throw refuse(1, 'certificate: code', read.what, 'Read the codes again, each on a line of its own.');
}

/** The bytes of a file; of one that is too large, enough to find it so. */
async function bytesOf(file: string, most: number): Promise<Buffer> {
  try {
    const handle = await open(file, 'r');
    try {
      const buffer = Buffer.alloc(most + 1);
      let length = 0;
      for (;;) {
        const { bytesRead } = await handle.read(buffer, length, buffer.length - length, length);
        length += bytesRead;
        if (bytesRead === 0 || length === buffer.length) return buffer.subarray(0, length);
      }
    } finally {
      await handle.close();
    }
  } catch (error) {
    const problem = diskProblem(error, file);
    throw problem ? new Refusal(2, [problem]) : error;
  }
}

export interface ToldEvent {
  readonly seq: number;
  readonly day: string;
  readonly type: NumberEvent['type'];
  readonly part?: string;
}

/** The events of a verified certificate, in words. */
export const toldEvents = ({ certificate }: Verified): ToldEvent[] =>
  certificate.events.map(({ seq, body }) => {
    const event = registerEvent.parse(JSON.parse(body)) as NumberEvent;
    return { seq, day: dayOf(event), type: event.type, ...('part' in event && { part: event.part }) };
  });
