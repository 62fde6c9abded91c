import {
  canonicalize,
  fromLeaf,
  type Leaf,
  leafHash,
  leafHashHex,
  type RegisterEvent,
  readEvent,
  toLeaf,
} from './event.js';
import { parseEventFast, readEventFast } from './parse-event-fast.js';

/**
 * Events to and from their text. Of a text that is plain, and so canonical and of its form, nothing more is asked
 * (`parse-event-fast.ts`). Nearly all are, and the schema takes several times as long.
 */

/** The text of what is plain. */
function plainText(value: object): string | undefined {
  try {
    const body = canonicalize(value);
    return body !== undefined && parseEventFast(body) ? body : undefined;
  } catch {
    // What has no text is not plain, and the schema says why.
    return undefined;
  }
}

/** Reads what is to become an event. Throws a Refusal (exit 2) when it is not of the form of one. */
export const readAsked = (value: object, where: string): RegisterEvent =>
  plainText(value) === undefined ? readEvent(value, where) : (value as RegisterEvent);

/** The text and hash of an event. Throws a Refusal (exit 2) when it is not of the form of one. */
export function writeEvent(event: RegisterEvent): Leaf {
  const body = plainText(event);
  return body === undefined ? toLeaf(event) : { body, leaf: leafHash(body) };
}

/** The event of a row. Throws a Refusal (exit 3) where text, hash and form do not agree. */
export function readVerified(seq: number, { body, leaf }: Leaf): RegisterEvent {
  const event = readEventFast(body);
  return event && leafHashHex(body) === leaf.toString('hex') ? event : fromLeaf(seq, { body, leaf });
}

/** The same where the hash is hexadecimal text: of many rows it costs less to make and to compare. */
export function readVerifiedHex(seq: number, body: string, hash: string): RegisterEvent {
  const event = readEventFast(body);
  if (event && leafHashHex(body) === hash) return event;
  return fromLeaf(seq, { body, leaf: Buffer.from(hash, 'hex') });
}
