import { isUtf8 } from 'node:buffer';
import { hash } from 'node:crypto';
import { parseJson } from '../../parse-json.js';
import { type Problem, Refusal } from '../../problem.js';
import { type EventOf, isOfNumber, leafHash, registerEvent } from '../event.js';
import { applyEvent, type Life, type State } from '../lifecycle.js';
import { type HistoryKey, readKeys } from '../log/key-history.js';
import { inclusionProblem } from '../log/merkle-proof.js';
import { type Checkpoint, hasSigned } from '../log/note.js';
import {
  CERTIFICATE_VERSION,
  type Certificate,
  canonicalJson,
  certificate,
  LARGEST_CERTIFICATE,
  signedBytes,
} from './certificate-form.js';
import { datesOf, ownerOf, type PlacedEvent } from './facts.js';
import { problem } from './messages.js';
import { verifyCheckpoint } from './signed-checkpoint.js';

/** What a genuine certificate says, read from events that are proved. */
export interface Verified {
  readonly certificate: Certificate;
  readonly state: State;
  readonly checkpoint: Checkpoint;
  /** Which of the maker's keys signed it. */
  readonly key: HistoryKey;
  /** What changed the terms of its edition, first to last. */
  readonly amendments: readonly EventOf<'amended'>[];
  /** SHA-256 of its file, hex: a list of withdrawals names it by this. */
  readonly digest: string;
}

export type Verdict = { ok: true; verified: Verified } | { ok: false; problems: Problem[] };

const WHERE = 'certificate';

/**
 * Verifies a certificate with nothing but the maker's public key, or the history of the maker's keys. Gives every problem
 * it finds; one that makes the rest unreadable ends the reading.
 */
export function verifyCertificate(bytes: Uint8Array, publicKeys: string): Verdict {
  const read = readCertificate(bytes);
  if (!read.ok) return read;
  const one = read.certificate;
  const keys = readKeys(publicKeys);
  if (!keys.ok) {
    return {
      ok: false,
      problems: [problem('certificate.key-unreadable', WHERE, { reason: keys.problem })],
    };
  }
  const problems: Problem[] = [];
  const checked = verifyCheckpoint(one.checkpoint, keys.history);
  if (checked.ok) problems.push(...inclusionProblems(one, checked.checkpoint));
  else problems.push(checked.problem);
  // Both signatures are of one key: its end is a size, and only the checkpoint has one.
  const signers = checked.ok ? [checked.key] : keys.history.keys;
  const signature = Buffer.from(one.signature, 'base64');
  if (!signers.some(({ verifier }) => hasSigned(verifier, signedBytes(one), signature)))
    problems.push(problem('certificate.signature-wrong', WHERE, {}));
  const parsed = parseEvents(one);
  if (!parsed.ok) return { ok: false, problems: [...problems, ...parsed.problems] };
  problems.push(...factProblems(one, parsed.events));
  const amended = readAmendments(one);
  problems.push(...amended.problems);
  const replayed = replay(one, parsed.events);
  if (!replayed.ok) problems.push(...replayed.problems);
  if (problems.length > 0 || !checked.ok || !replayed.ok) return { ok: false, problems };
  return {
    ok: true,
    verified: {
      ...{ certificate: one, state: replayed.state, checkpoint: checked.checkpoint, key: checked.key },
      ...{ amendments: amended.events, digest: digestOf(read.bytes) },
    },
  };
}

type ReadCertificate =
  | { ok: true; certificate: Certificate; bytes: Uint8Array }
  | { ok: false; problems: Problem[] };

/** The certificate from its bytes, which must be its canonical JSON exactly; only line ends may follow. */
export function readCertificate(bytes: Uint8Array): ReadCertificate {
  const failed = (found: Problem): ReadCertificate => ({ ok: false, problems: [found] });
  if (bytes.length > LARGEST_CERTIFICATE) return failed(problem('certificate.too-large', WHERE, {}));
  if (!isUtf8(bytes)) return failed(problem('certificate.not-utf8', WHERE, {}));
  const text = new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes).replace(/[\r\n]+$/, '');
  const value = parseJson(text);
  if (value === undefined) return failed(problem('certificate.not-json', WHERE, {}));
  const { kind, version } = (value ?? {}) as { kind?: unknown; version?: unknown };
  if (kind === 'certificate' && version !== 1 && version !== CERTIFICATE_VERSION)
    return failed(problem('certificate.version-unknown', WHERE, {}));
  const form = certificate.safeParse(value);
  if (!form.success) {
    const fields = new Set(form.error.issues.map((issue) => fieldOf(issue.path)));
    const problems = [...fields].map((field) => problem('certificate.field-wrong', WHERE, { field }));
    return { ok: false, problems: problems.slice(0, 8) };
  }
  // Compares what was parsed, not what was there: nothing can hide beside the known fields.
  if (canonicalOf(form.data) !== text) return failed(problem('certificate.not-canonical', WHERE, {}));
  if (form.data.version === 1 && (form.data.serial !== undefined || form.data.amendments !== undefined))
    return failed(problem('certificate.version-unknown', WHERE, {}));
  return { ok: true, certificate: form.data, bytes: Buffer.from(`${text}\n`, 'utf8') };
}

const fieldOf = (path: readonly PropertyKey[]): string =>
  path.length === 0 ? 'A field' : `The field ${path.map(String).join('.')}`;

function canonicalOf(value: unknown): string | undefined {
  try {
    return canonicalJson(value);
  } catch {
    return undefined;
  }
}

const inclusionProblems = ({ events, amendments = [] }: Certificate, tree: Checkpoint): Problem[] =>
  [...events, ...amendments].flatMap(({ seq, body, proof }) => {
    const hashes = proof.map((hash) => Buffer.from(hash, 'base64'));
    const found = inclusionProblem(tree, seq, leafHash(body), hashes);
    return found ? [problem('certificate.not-included', WHERE, { seq, reason: found })] : [];
  });

type ParsedEvents = { ok: true; events: PlacedEvent[] } | { ok: false; problems: Problem[] };

/** The events from their texts: canonical, of a known kind, about a number, each after the one before. */
function parseEvents({ events }: Certificate): ParsedEvents {
  const problems: Problem[] = [];
  const read = events.flatMap(({ seq, body }): PlacedEvent[] => {
    const wrong = (fault: 'json' | 'canonical' | 'kind' | 'edition'): PlacedEvent[] => {
      problems.push(problem('certificate.event-unreadable', WHERE, { seq, fault }));
      return [];
    };
    const value = parseJson(body);
    if (value === undefined) return wrong('json');
    if (canonicalOf(value) !== body) return wrong('canonical');
    const event = registerEvent.safeParse(value);
    if (!event.success) return wrong('kind');
    if (!isOfNumber(event.data)) return wrong('edition');
    return [{ seq, event: event.data }];
  });
  for (let i = 1; i < events.length; i++) {
    const { seq } = events[i]!;
    if (seq <= events[i - 1]!.seq) problems.push(problem('certificate.events-out-of-order', WHERE, { seq }));
  }
  return problems.length > 0 ? { ok: false, problems } : { ok: true, events: read };
}

/** The amendments it shows, of its own edition; the last names the edition as the certificate does. */
function readAmendments({ amendments = [], edition, version }: Certificate): {
  readonly events: EventOf<'amended'>[];
  readonly problems: Problem[];
} {
  const problems: Problem[] = [];
  const events = amendments.flatMap(({ seq, body }, i): EventOf<'amended'>[] => {
    const parsed = parseJson(body);
    const event = registerEvent.safeParse(parsed).data;
    const inOrder = i === 0 || seq > amendments[i - 1]!.seq;
    if (event?.type === 'amended' && event.edition === edition.id && canonicalOf(parsed) === body && inOrder)
      return [event];
    problems.push(problem('certificate.amendment-wrong', WHERE, { seq }));
    return [];
  });
  if (version > 1 && events.length > 0 && events.at(-1)!.name !== edition.name)
    problems.push(problem('certificate.edition-differs', WHERE, {}));
  return { events, problems };
}

/** SHA-256 of the file of a certificate, hex. */
export const digestOf = (file: Uint8Array): string => hash('sha256', file);

type ComparedFact =
  | 'edition-differs'
  | 'series-differs'
  | 'number-differs'
  | 'label-differs'
  | 'dates-differ'
  | 'owner-differs';

/** What is shown must be what the events say, each of them. */
function factProblems(one: Certificate, placed: readonly PlacedEvent[]): Problem[] {
  const events = placed.map(({ event }) => event);
  const problems: Problem[] = [];
  const hold = (what: ComparedFact, agrees: boolean): void => {
    if (!agrees) problems.push(problem(`certificate.${what}`, WHERE, {}));
  };
  hold(
    'edition-differs',
    events.every((e) => e.edition === one.edition.id),
  );
  hold(
    'series-differs',
    events.every((e) => e.series === one.series.id),
  );
  hold(
    'number-differs',
    events.every((e) => e.number === one.number),
  );
  hold(
    'label-differs',
    events.every((e) => e.label === one.label),
  );
  hold('dates-differ', canonicalJson(datesOf(placed)) === canonicalJson(one.dates));
  hold('owner-differs', ownerOf(placed) === one.owner);
  const issued = events.find((e) => e.type === 'issued');
  const ids = new Set(one.parts.map((part) => part.id));
  if (ids.size !== one.parts.length) problems.push(problem('certificate.part-twice', WHERE, {}));
  const hidden = issued?.type === 'issued' ? issued.parts?.find((part) => !ids.has(part)) : undefined;
  if (hidden !== undefined) problems.push(problem('certificate.part-missing', WHERE, { part: hidden }));
  return problems;
}

type Replayed = { ok: true; state: State } | { ok: false; problems: Problem[] };

/** Whether these events can have happened to one number, and left a sound piece. */
function replay({ label }: Certificate, events: readonly PlacedEvent[]): Replayed {
  let status: Life | undefined;
  try {
    for (const { event, seq } of events) status = applyEvent(status, event, { seq });
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    const { problems } = error;
    return { ok: false, problems: [problem('certificate.history-impossible', WHERE, { problems })] };
  }
  if (status && isSound(status.state)) return { ok: true, state: status.state };
  const state = status?.state ?? 'not issued';
  return { ok: false, problems: [problem('certificate.not-sound', WHERE, { label, state })] };
}

/** May a certificate be given of a piece in this state? */
export const isSound = (state: State): boolean =>
  state === 'engraved' || state === 'inspected' || state === 'delivered';
