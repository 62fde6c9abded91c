import { isUtf8 } from 'node:buffer';
import { type Problem, problem, Refusal } from '../../problem.js';
import { leafHash, type NumberEvent, registerEvent } from '../event.js';
import { applyEvent, type NumberStatus, type State } from '../lifecycle.js';
import { type Checkpoint, hasSigned, readVerifier } from '../log/note.js';
import { inclusionFault } from '../log/proof.js';
import { checkedCheckpoint } from './checkpoint.js';
import { datesOf, ownerOf } from './facts.js';
import { type Certificate, canonical, certificate, LARGEST_CERTIFICATE, signedBytes } from './form.js';

/** What can be wrong with a certificate. */
export type Reason =
  | 'size'
  | 'text'
  | 'JSON'
  | 'version'
  | 'form'
  | 'canonical'
  | 'key'
  | 'checkpoint'
  | 'signer'
  | 'checkpoint signature'
  | 'origin'
  | 'event text'
  | 'event order'
  | 'inclusion'
  | 'edition'
  | 'series'
  | 'number'
  | 'label'
  | 'dates'
  | 'owner'
  | 'parts'
  | 'life'
  | 'state'
  | 'signature';

export interface Fault extends Problem {
  readonly reason: Reason;
}

/** What a genuine certificate says, read from events that are proved. */
export interface Verified {
  readonly certificate: Certificate;
  readonly state: State;
  readonly checkpoint: Checkpoint;
}

export type Verdict = { ok: true; what: Verified } | { ok: false; problems: Fault[] };

const ASK = 'Ask the maker; do not rely on this certificate.';
const fault = (reason: Reason, what: string, cure = ASK): Fault => ({
  ...problem(`certificate: ${reason}`, what, cure),
  reason,
});

/**
 * Checks a certificate with nothing but the maker's public key. Every fault that can be told is told; those that make
 * the rest unreadable end the reading.
 */
export function verifyCertificate(bytes: Uint8Array, verifierKey: string): Verdict {
  const read = readCertificate(bytes);
  if (!read.ok) return read;
  const one = read.certificate;
  const key = readVerifier(verifierKey.trim());
  if (!key.ok) {
    const cure = "Use the line that the maker gives as its register's public key, whole.";
    return { ok: false, problems: [fault('key', key.what, cure)] };
  }
  const { verifier } = key;
  const problems: Fault[] = [];
  const checked = checkedCheckpoint(one.checkpoint, verifier);
  if (checked.ok) problems.push(...inclusionFaults(one, checked.checkpoint));
  else problems.push(fault(checked.reason, `Of its checkpoint: ${checked.what}`));
  if (!hasSigned(verifier, signedBytes(one), Buffer.from(one.signature, 'base64')))
    problems.push(fault('signature', "The maker's signature does not fit what the certificate says."));
  const told = toldEvents(one);
  if (!told.ok) return { ok: false, problems: [...problems, ...told.problems] };
  problems.push(...factFaults(one, told.events));
  const life = lifeOf(one, told.events);
  if (Array.isArray(life)) problems.push(...life);
  if (problems.length > 0 || !checked.ok || Array.isArray(life)) return { ok: false, problems };
  return { ok: true, what: { certificate: one, state: life.state, checkpoint: checked.checkpoint } };
}

type Read = { ok: true; certificate: Certificate } | { ok: false; problems: Fault[] };

/** The certificate from its bytes, which must be its canonical JSON to the last sign, but for line ends after it. */
export function readCertificate(bytes: Uint8Array): Read {
  const refused = (reason: Reason, what: string, cure?: string): Read => ({
    ok: false,
    problems: [fault(reason, what, cure)],
  });
  if (bytes.length > LARGEST_CERTIFICATE) return refused('size', 'It is larger than any certificate.');
  if (!isUtf8(bytes)) return refused('text', 'It is not UTF-8 text.');
  const text = new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes).replace(/[\r\n]+$/, '');
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return refused('JSON', 'It is not JSON, or cut short.', 'Copy it again, whole.');
  }
  const { kind, version } = (value ?? {}) as { kind?: unknown; version?: unknown };
  if (kind === 'certificate' && version !== 1)
    return refused('version', 'It is of a version this program does not know.', 'Use a newer burin.');
  const form = certificate.safeParse(value);
  if (!form.success) {
    const problems = form.error.issues
      .slice(0, 8)
      .map((issue) => fault('form', `${issue.path.join('.') || 'It'}: ${issue.message}.`));
    return { ok: false, problems };
  }
  // Of what was read, not of what was there: so nothing can hide beside what is known.
  if (canonicalOf(form.data) !== text)
    return refused(
      'canonical',
      'It is not written as it was made: a name twice, blanks, or another order.',
      'Use the file as the maker gave it, not a copy saved by an editor.',
    );
  return { ok: true, certificate: form.data };
}

function canonicalOf(value: unknown): string | undefined {
  try {
    return canonical(value);
  } catch {
    return undefined;
  }
}

const inclusionFaults = ({ events }: Certificate, tree: Checkpoint): Fault[] =>
  events.flatMap(({ seq, body, proof }) => {
    const hashes = proof.map((hash) => Buffer.from(hash, 'base64'));
    const why = inclusionFault(tree, seq, leafHash(body), hashes);
    return why ? [fault('inclusion', `Event ${seq} is not proved to stand in the checkpoint: ${why}`)] : [];
  });

type ToldEvents = { ok: true; events: NumberEvent[] } | { ok: false; problems: Fault[] };

/** The events from their texts: canonical, of a known kind, of a number, each after the one before. */
function toldEvents({ events }: Certificate): ToldEvents {
  const problems: Fault[] = [];
  const read = events.flatMap(({ seq, body }): NumberEvent[] => {
    const wrong = (what: string): NumberEvent[] => {
      problems.push(fault('event text', `Event ${seq} ${what}.`));
      return [];
    };
    let value: unknown;
    try {
      value = JSON.parse(body);
    } catch {
      return wrong('is not JSON');
    }
    if (canonicalOf(value) !== body) return wrong('is not canonical JSON');
    const event = registerEvent.safeParse(value);
    if (!event.success) return wrong('is of no kind this program knows');
    if (event.data.type === 'closed') return wrong('is not of one number');
    return [event.data];
  });
  for (let i = 1; i < events.length; i++) {
    if (events[i]!.seq <= events[i - 1]!.seq)
      problems.push(fault('event order', `Event ${events[i]!.seq} does not come after the one before it.`));
  }
  return problems.length > 0 ? { ok: false, problems } : { ok: true, events: read };
}

/** What is shown must be what the events say, each of them. */
function factFaults(one: Certificate, events: readonly NumberEvent[]): Fault[] {
  const problems: Fault[] = [];
  const differs = (reason: Reason, what: string): void => {
    problems.push(fault(reason, `The ${what} shown is not that of the events.`));
  };
  if (events.some((e) => e.edition !== one.edition.id)) differs('edition', 'edition');
  if (events.some((e) => e.series !== one.series.id)) differs('series', 'series');
  if (events.some((e) => e.number !== one.number)) differs('number', 'number');
  if (events.some((e) => e.label !== one.label)) differs('label', 'label');
  if (canonical(datesOf(events)) !== canonical(one.dates)) differs('dates', 'day of one event or more');
  if (ownerOf(events) !== one.owner) differs('owner', 'owner');
  const issued = events.find((e) => e.type === 'issued');
  const ids = new Set(one.parts.map((part) => part.id));
  if (ids.size !== one.parts.length) problems.push(fault('parts', 'A part is shown twice.'));
  else if (issued?.type === 'issued' && issued.parts?.some((part) => !ids.has(part)))
    problems.push(fault('parts', 'A part that carries the number is not shown.'));
  return problems;
}

/** Whether these events by themselves can have happened, and came to a piece that may be shown as sound. */
function lifeOf({ label }: Certificate, events: readonly NumberEvent[]): NumberStatus | Fault[] {
  let standing: NumberStatus | undefined;
  try {
    for (const event of events) standing = applyEvent(standing, event);
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return error.problems.map((one) => fault('life', `The events cannot be a life: ${one.what}`));
  }
  if (standing && isSound(standing.state)) return standing;
  return [fault('state', `The events leave ${label} ${standing?.state ?? 'without any'}.`)];
}

/** May a certificate be given of a piece that stands so? */
export const isSound = (state: State): boolean =>
  state === 'engraved' || state === 'inspected' || state === 'delivered';
