import { basename } from 'node:path';
import { type Problem, Refusal, within } from '../problem.js';
import type { Certificate } from '../register/certificate/certificate-form.js';
import { fromCode, isCode } from '../register/certificate/code.js';
import { verifyCertificate } from '../register/certificate/verify.js';
import { fromLeaf, leafHash, registerEvent } from '../register/event.js';
import { JsonLinesReader, LONGEST_LINE } from '../register/export/json-lines.js';
import { refuse as refuseExport } from '../register/export/messages.js';
import { formatHistory, type KeyHistory, signingKey } from '../register/log/key-history.js';
import { problem as problemOfLog } from '../register/log/messages.js';
import { type Checkpoint, type Opened, readCheckpoint, readNote } from '../register/log/note.js';
import { refuse as refuseEvent } from '../register/messages.js';
import { unmetMarks } from '../register/recovery/known-log.js';
import type { KnownCertificate, KnownEvent } from '../register/recovery/recover-number.js';
import { numberEvents } from '../register/recovery/recover-number.js';
import type { RawEvent, StoredCheckpoint } from '../register/register.js';
import {
  countingResumptions,
  type Resumption,
  type Resumptions,
  readResumed,
} from '../register/resumption/resumptions.js';
import { readRunSheet } from '../sheets/run-sheet-reader.js';
import { linesIn, openInput, readInput, withInput } from './input-file.js';
import { refuse } from './messages.js';

/** An exported register, known by the hashes of its events. */
export interface ExportPaper {
  readonly file: string;
  readonly edition?: string;
  readonly checkpoints: readonly StoredCheckpoint[];
  /** The largest of them that a key signed. */
  readonly signed?: Checkpoint;
  readonly leaves: readonly Buffer[];
  /** What the register goes past that was exported. */
  readonly resumptions: Resumptions;
}

/** What papers say that were given after a loss. */
export interface Papers {
  readonly exports: readonly ExportPaper[];
  /** Verified. */
  readonly checkpoints: readonly (Checkpoint & { readonly file: string })[];
  /** Events of verified certificates, with their text. */
  readonly proved: readonly (KnownEvent & RawEvent)[];
  /** Verified certificates that bear a serial. */
  readonly certificates: readonly (KnownCertificate & { readonly edition: string; readonly label: string })[];
  readonly listed: readonly {
    readonly file: string;
    readonly edition: string;
    readonly labels: readonly string[];
  }[];
}

const HEAD_BYTES = 64;
const LARGEST_PAPER = 64 * 1024 * 1024;

/**
 * Reads papers of any kind, each known by its content. Certificates and checkpoints are verified with the keys, each of
 * which counts as far as its history goes. Throws a Refusal that names each paper that cannot be trusted.
 */
export async function readPapers(files: readonly string[], keys: readonly KeyHistory[]): Promise<Papers> {
  const papers = {
    exports: [] as ExportPaper[],
    checkpoints: [] as (Checkpoint & { file: string })[],
    proved: [] as (KnownEvent & RawEvent)[],
    certificates: [] as Papers['certificates'][number][],
    listed: [] as { file: string; edition: string; labels: readonly string[] }[],
  };
  const wrong: Refusal[] = [];
  // In the order of their names, so that what is entered does not depend on the order in which they are given.
  const named = [...new Set(files)].map((file) => ({ file, name: `${basename(file)}\n${file}` }));
  for (const { file } of named.sort((a, b) => (a.name < b.name ? -1 : 1))) {
    try {
      if ((await headOf(file)).startsWith('{"kind":"register"')) {
        papers.exports.push(await readExport(file, keys));
        continue;
      }
      const bytes = await readInput(file, LARGEST_PAPER);
      const text = bytes.toString('utf8');
      if (text.startsWith('%PDF-')) throw refuse('verify.page-given', file, {});
      const sheet = readRunSheet(text);
      if (sheet) {
        if (sheet.listed !== sheet.rows || sheet.rows === 0)
          throw refuse('restore.sheet-altered', file, { listed: sheet.listed, rows: sheet.rows });
        papers.listed.push({ file, ...sheet });
      } else if (readNote(text).ok)
        papers.checkpoints.push({ ...readCheckpointPaper(file, text, keys), file });
      else if (/^\s*\{.*"kind":"certificate"/s.test(text) || isCode(text)) {
        const { certificate, checkpoint, digest } = readCertificatePaper(file, bytes, text, keys);
        papers.checkpoints.push({ ...checkpoint, file });
        papers.proved.push(...eventsOf(certificate, basename(file)));
        const { edition, label, serial } = certificate;
        const again = papers.certificates.some((one) => one.digest === digest);
        if (serial !== undefined && !again)
          papers.certificates.push({ edition: edition.id, label, paper: basename(file), serial, digest });
      } else throw refuseExport('restore.not-an-export', file, {});
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      wrong.push(error);
    }
  }
  if (wrong.length > 0) throw new Refusal(wrong.flatMap(({ problems }) => problems));
  return papers;
}

const headOf = (file: string): Promise<string> =>
  withInput(file, async (handle) => {
    const { buffer, bytesRead } = await handle.read(Buffer.alloc(HEAD_BYTES), 0, HEAD_BYTES, 0);
    return buffer.toString('latin1', 0, bytesRead);
  });

const mustHaveKey = (file: string, keys: readonly KeyHistory[]): void => {
  if (keys.length === 0) throw refuse('restore.key-missing', file, {});
};

/** The text of a checkpoint that a key of this history signed, as far as it counts. */
function openSigned(text: string, keys: KeyHistory): Opened<{ checkpoint: Checkpoint }> {
  const read = readNote(text);
  if (!read.ok) return read;
  const opened = readCheckpoint(read.note);
  if (!opened.ok) return opened;
  const { origin, size } = opened.checkpoint;
  const by = signingKey(read.note, size, keys);
  if (!by.ok) return by;
  if (origin === keys.origin) return opened;
  return { ok: false, problem: problemOfLog('log.checkpoint-other-log', '', { origin, name: keys.origin }) };
}

/** Of several keys, what is wrong with the signature of one of them says more than that others did not sign. */
const tellingFirst = (problems: readonly Problem[]): Problem =>
  problems.find(({ code }) => !code.endsWith('.other-signer')) ?? problems[0]!;

function readCheckpointPaper(file: string, text: string, keys: readonly KeyHistory[]): Checkpoint {
  mustHaveKey(file, keys);
  const opened = keys.map((history) => openSigned(text, history));
  const sound = opened.find(({ ok }) => ok);
  if (sound?.ok) return sound.checkpoint;
  const found = tellingFirst(opened.flatMap((one) => (one.ok ? [] : [one.problem])));
  throw new Refusal([{ ...found, where: file }]);
}

function readCertificatePaper(file: string, bytes: Buffer, text: string, keys: readonly KeyHistory[]) {
  mustHaveKey(file, keys);
  return within(file, () => {
    const code = isCode(text) ? fromCode(text) : undefined;
    if (code && !code.ok) throw new Refusal([code.problem]);
    const given = code?.ok ? code.bytes : bytes;
    const verdicts = keys.map((history) => verifyCertificate(given, formatHistory(history)));
    const sound = verdicts.find(({ ok }) => ok);
    if (sound?.ok) return sound.verified;
    const failures = verdicts.flatMap((one) => (one.ok ? [] : [one.problems]));
    const byStranger = (one: readonly Problem[]) =>
      one.some(({ code }) => code === 'certificate.other-signer');
    throw new Refusal(failures.find((one) => !byStranger(one)) ?? failures[0]!);
  });
}

const eventsOf = ({ events }: Certificate, paper: string): (KnownEvent & RawEvent)[] =>
  events.flatMap(({ seq, body }) => {
    const event = registerEvent.parse(JSON.parse(body));
    return numberEvents([{ seq, event }], paper).map((one) => ({ ...one, body, leaf: leafHash(body) }));
  });

async function readExport(file: string, keys: readonly KeyHistory[]): Promise<ExportPaper> {
  const leaves: Buffer[] = [];
  const resumed: Resumption[] = [];
  let edition: string | undefined;
  let checkpoints: readonly StoredCheckpoint[] = [];
  await readingExport(file, async (reader) => {
    ({ edition } = await reader.head());
    checkpoints = await reader.checkpoints();
    for await (const { seq, body, leaf } of reader.events(edition !== undefined)) {
      if (seq !== leaves.length)
        throw refuseEvent('register.event-out-of-sequence', `register event ${seq}`, {
          expected: leaves.length,
        });
      leaves.push(leaf);
      const event = body.includes('"resumed"') ? readResumed({ seq, body, leaf }) : undefined;
      if (event) resumed.push({ seq, event });
    }
  });
  const found = resumed.map((one) => ({ ...one, named: leaves[one.event.corrects ?? -1] }));
  const resumptions = countingResumptions(found);
  const signed = edition === undefined ? largestSigned(checkpoints, leaves, keys) : undefined;
  return {
    ...{ file, checkpoints, leaves, resumptions },
    ...(edition !== undefined && { edition }),
    ...(signed && { signed }),
  };
}

/** Fewer are looked at than there are: where the newest ones do not count, the export is nothing to rely on. */
const MOST_TRIED = 8;

/** The largest checkpoint of an export that a key signed, and to which its events lead. */
function largestSigned(
  checkpoints: readonly StoredCheckpoint[],
  leaves: readonly Buffer[],
  keys: readonly KeyHistory[],
): Checkpoint | undefined {
  const newest = checkpoints.filter(({ size }) => size <= leaves.length).slice(-MOST_TRIED);
  const signed = newest.flatMap(({ note }) => {
    const sound = keys.map((history) => openSigned(note, history)).find(({ ok }) => ok);
    return sound?.ok ? [sound.checkpoint] : [];
  });
  const unmet = new Set(unmetMarks(leaves, signed));
  return signed.filter((one) => !unmet.has(one)).sort((a, b) => b.size - a.size)[0];
}

/** The events of an export from a place on; it was read whole before. */
export async function* exportedEvents(
  { file, edition }: ExportPaper,
  from: number,
): AsyncGenerator<RawEvent> {
  const handle = await openInput(file);
  try {
    const reader = new JsonLinesReader(file, linesIn(handle, LONGEST_LINE));
    await reader.head();
    await reader.checkpoints();
    for await (const event of reader.events(edition !== undefined)) if (event.seq >= from) yield event;
  } finally {
    await handle.close();
  }
}

const readingExport = (file: string, work: (reader: JsonLinesReader) => Promise<void>): Promise<void> =>
  withInput(file, (handle) => work(new JsonLinesReader(file, linesIn(handle, LONGEST_LINE))));

/** The events of numbers in an export, from a place on. */
export async function knownOf(paper: ExportPaper, from: number): Promise<KnownEvent[]> {
  const known: KnownEvent[] = [];
  for await (const raw of exportedEvents(paper, from))
    if (!paper.resumptions.passes(raw.seq))
      known.push(...numberEvents([{ seq: raw.seq, event: fromLeaf(raw.seq, raw) }], basename(paper.file)));
  return known;
}
