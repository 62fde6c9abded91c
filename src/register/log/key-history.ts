import type { Problem } from '../../problem.js';
import { problem } from './messages.js';
import {
  checkpointText,
  type Note,
  type Opened,
  readCheckpoint,
  readNote,
  readVerifier,
  type Signer,
  signatureProblem,
  signNote,
  type Verifier,
  verifierLine,
} from './note.js';

/** Why a key ended. */
export const RETIREMENTS = ['planned', 'lost', 'stolen'] as const;
export type Retirement = (typeof RETIREMENTS)[number];

/** A key of a log, and for which sizes of the log its signature counts. */
export interface HistoryKey {
  readonly verifier: Verifier;
  /** The smallest size it signs for: where the key before it ended. */
  readonly first: number;
  /** The largest, and why there is no larger; absent while the key is in use. */
  readonly end?: { readonly last: number; readonly reason: Retirement };
}

/** The keys of a log in their order, and what each key that ended as planned signed to hand over to the next. */
export interface KeyHistory {
  readonly origin: string;
  readonly keys: readonly HistoryKey[];
  readonly handovers: readonly string[];
}

/** The history of a log that never had another key. */
export const historyOf = (verifier: Verifier): KeyHistory => ({
  origin: verifier.name,
  keys: [{ verifier, first: 0 }],
  handovers: [],
});

const TITLE = 'keys of ';
/** Tells a handover from a checkpoint; it is one, with two lines more. */
const HANDOVER = 'handover';

export const isSameKey = (one: Verifier, other: Verifier): boolean =>
  one.name === other.name && one.publicKey.equals(other.publicKey);

/** The history as a file for others: a line for each key, then the handovers. */
export function formatHistory({ origin, keys, handovers }: KeyHistory): string {
  const lines = keys.map(({ verifier, first, end }) =>
    [verifierLine(verifier), first, ...(end ? [end.last, end.reason] : ['open'])].join(' '),
  );
  return [`${TITLE}${origin}\n${lines.map((line) => `${line}\n`).join('')}`, ...handovers].join('\n');
}

/** What a key that ends as planned signs, with the next one: for which log it was the last, and who follows. */
export const signHandover = (
  at: { readonly size: number; readonly root: Buffer },
  from: Signer,
  next: Signer,
): string =>
  signNote(`${checkpointText({ ...at, origin: from.name })}${HANDOVER}\n${verifierLine(next)}\n`, [
    from,
    next,
  ]);

/** Reads the keys of a maker: a public key as one line, or a history. */
export function readKeys(text: string): Opened<{ history: KeyHistory }> {
  if (text.startsWith(TITLE)) return readHistory(text);
  const read = readVerifier(text.trim());
  return read.ok ? { ok: true, history: historyOf(read.verifier) } : read;
}

/** Whether the head of a file shows that it is a history of this log. */
export const isHistoryOf = (origin: string) => (head: string) =>
  Buffer.from(head, 'latin1').toString('utf8').startsWith(`${TITLE}${origin}\n`);

function readHistory(text: string): Opened<{ history: KeyHistory }> {
  if (!text.endsWith('\n')) return failed(problem('log.note-cut-short', '', {}));
  const [head, ...parts] = text.slice(0, -1).split('\n\n');
  const [title, ...lines] = head!.split('\n');
  const keys: HistoryKey[] = [];
  for (const [i, line] of lines.entries()) {
    const read = readLine(line);
    if (!read.ok) return failed(problem('log.history-line', '', { line: i + 2, reason: read.problem }));
    keys.push(read.key);
  }
  if (keys.length === 0) return failed(problem('log.history-empty', '', {}));
  const origin = title!.slice(TITLE.length);
  const handovers: string[] = [];
  for (let i = 0; i < parts.length; i += 2) handovers.push(`${parts[i]}\n\n${parts[i + 1] ?? ''}\n`);
  const history = { origin, keys, handovers };
  const wrong = sequenceProblem(history) ?? handoversProblem(history);
  return wrong ? failed(wrong) : { ok: true, history };
}

function readLine(line: string): Opened<{ key: HistoryKey }> {
  const read = /^(\S+) (0|[1-9]\d{0,15}) (?:open|(0|[1-9]\d{0,15}) (planned|lost|stolen))$/.exec(line);
  if (!read) return failed(problem('log.history-form', '', {}));
  const key = readVerifier(read[1]!);
  if (!key.ok) return key;
  const { verifier } = key;
  const first = Number(read[2]);
  const end = read[3] === undefined ? {} : { end: { last: Number(read[3]), reason: read[4] as Retirement } };
  return { ok: true, key: { verifier, first, ...end } };
}

/** One log, no key twice, each from where the one before ended, and at most the last in use. */
function sequenceProblem({ origin, keys }: KeyHistory): Problem | undefined {
  for (const [i, { verifier, first, end }] of keys.entries()) {
    const line = i + 2;
    const before = keys[i - 1];
    if (verifier.name !== origin)
      return problem('log.history-other-log', '', { line, name: verifier.name, origin });
    if (keys.slice(0, i).some((one) => isSameKey(one.verifier, verifier)))
      return problem('log.history-key-twice', '', { line });
    if (before && !before.end) return problem('log.history-open-before', '', { line: line - 1 });
    if (first !== (before?.end?.last ?? 0) || (end && end.last < first))
      return problem('log.history-sizes', '', { line });
  }
  return undefined;
}

/** A handover for each key that ended as planned and has one after it, in order, and no more. */
function handoversProblem({ keys, handovers }: KeyHistory): Problem | undefined {
  let next = 0;
  for (const [i, { verifier, end }] of keys.entries()) {
    const after = keys[i + 1];
    if (end?.reason !== 'planned' || !after) continue;
    const note = handovers[next++];
    const wrong = note === undefined ? true : !isHandover(note, verifier, after.verifier, end.last);
    if (wrong) return problem('log.history-handover', '', { line: i + 2 });
  }
  return next === handovers.length ? undefined : problem('log.history-handover-extra', '', {});
}

function isHandover(signed: string, from: Verifier, next: Verifier, size: number): boolean {
  const read = readNote(signed);
  const at = read.ok ? readCheckpoint(read.note) : read;
  if (!read.ok || !at.ok || signatureProblem(read.note, from) || signatureProblem(read.note, next))
    return false;
  const more = read.note.text.slice(0, -1).split('\n').slice(3);
  const { origin, size: signedSize } = at.checkpoint;
  return (
    origin === from.name &&
    signedSize === size &&
    more.length === 2 &&
    more[0] === HANDOVER &&
    more[1] === verifierLine(next)
  );
}

const failed = (found: Problem) => ({ ok: false, problem: found }) as const;

/**
 * Which key of a history signed a note that is for so many events, or why none of them counts. Signatures of keys that are
 * not in the history are ignored; a false one of a key that is in it is not.
 */
export function signingKey(
  note: Note,
  size: number,
  { origin, keys }: KeyHistory,
): Opened<{ key: HistoryKey }> {
  let outside: Problem | undefined;
  let found: HistoryKey | undefined;
  for (const key of keys) {
    const wrong = signatureProblem(note, key.verifier);
    if (wrong?.code === 'log.other-signer') continue;
    if (wrong) return failed(wrong);
    const beyond = rangeProblem(key, size);
    if (beyond) outside = beyond;
    else found = key;
  }
  if (found) return { ok: true, key: found };
  return failed(outside ?? problem('log.other-signer', '', { name: origin }));
}

function rangeProblem({ first, end }: HistoryKey, size: number): Problem | undefined {
  if (size < first) return problem('log.key-not-begun', '', { size, first });
  if (!end || size <= end.last) return undefined;
  const { last, reason } = end;
  return problem('log.key-ended', '', { size, last, reason });
}

/** The key in use, or undefined when the last one was retired. */
export const openKey = ({ keys }: KeyHistory): HistoryKey | undefined => keys.find(({ end }) => !end);

/** The history with its last key ended; one that was ended before, with no key after it, is ended anew. */
export function endKey(history: KeyHistory, last: number, reason: Retirement): KeyHistory {
  const key = history.keys.at(-1)!;
  if (last < key.first) throw new RangeError('a key ends no earlier than it begins');
  return { ...history, keys: [...history.keys.slice(0, -1), { ...key, end: { last, reason } }] };
}

/** The history with one key more, which begins where the last one ended. */
export function addKey(history: KeyHistory, verifier: Verifier, handover?: string): KeyHistory {
  const { end } = history.keys.at(-1)!;
  if (!end) throw new RangeError('the key before it is still in use');
  return {
    ...history,
    keys: [...history.keys, { verifier, first: end.last }],
    handovers: [...history.handovers, ...(handover === undefined ? [] : [handover])],
  };
}

/** Whether a history says all that an earlier one says, and perhaps more: a key may have ended since, or another begun. */
export function continuesHistory(history: KeyHistory, earlier: KeyHistory): boolean {
  return (
    history.origin === earlier.origin &&
    earlier.keys.every((key, i) => {
      const now = history.keys[i];
      if (!now || !isSameKey(now.verifier, key.verifier) || now.first !== key.first) return false;
      const isLast = i === earlier.keys.length - 1;
      return isLast || (now.end?.last === key.end?.last && now.end?.reason === key.end?.reason);
    })
  );
}
