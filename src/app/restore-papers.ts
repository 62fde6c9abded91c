import { basename } from 'node:path';
import { Refusal, within } from '../problem.js';
import type { Certificate } from '../register/certificate/certificate-form.js';
import { fromCode, isCode } from '../register/certificate/code.js';
import { verifyCertificate } from '../register/certificate/verify.js';
import { fromLeaf, leafHash, registerEvent } from '../register/event.js';
import { JsonLinesReader } from '../register/export/json-lines.js';
import { refuse as refuseExport } from '../register/export/messages.js';
import {
  type Checkpoint,
  openCheckpoint,
  readNote,
  type Verifier,
  verifierLine,
} from '../register/log/note.js';
import { refuse as refuseEvent } from '../register/messages.js';
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
import { openInput, readInput, withInput } from './input-file.js';
import { refuse } from './messages.js';

/** An exported register, known by the hashes of its events. */
export interface ExportPaper {
  readonly file: string;
  readonly edition?: string;
  readonly checkpoints: readonly StoredCheckpoint[];
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
const LONGEST_KEY = 4096;
const LARGEST_PAPER = 64 * 1024 * 1024;

/**
 * Reads papers of any kind, each known by its content. Certificates and checkpoints are verified with one of the keys.
 * Throws a Refusal that names each paper that cannot be trusted.
 */
export async function readPapers(files: readonly string[], keys: readonly Verifier[]): Promise<Papers> {
  const papers = {
    exports: [] as ExportPaper[],
    checkpoints: [] as (Checkpoint & { file: string })[],
    proved: [] as (KnownEvent & RawEvent)[],
    certificates: [] as Papers['certificates'][number][],
    listed: [] as { file: string; edition: string; labels: readonly string[] }[],
  };
  const wrong: Refusal[] = [];
  // In the order of their names, so that what is entered does not depend on the order in which they are given.
  for (const file of [...new Set(files)].sort((a, b) => (basename(a) < basename(b) ? -1 : 1))) {
    try {
      if ((await headOf(file)).startsWith('{"kind":"register"')) {
        papers.exports.push(await readExport(file));
        continue;
      }
      const bytes = await readInput(file, LARGEST_PAPER);
      const text = bytes.toString('utf8');
      if (text.startsWith('%PDF-')) throw refuse('verify.page-given', file, {});
      const sheet = readRunSheet(text);
      if (sheet) papers.listed.push({ file, ...sheet });
      else if (readNote(text).ok) papers.checkpoints.push({ ...readCheckpointPaper(file, text, keys), file });
      else if (/^\s*\{.*"kind":"certificate"/s.test(text) || isCode(text)) {
        const { certificate, checkpoint, digest } = readCertificatePaper(file, bytes, text, keys);
        papers.checkpoints.push({ ...checkpoint, file });
        papers.proved.push(...eventsOf(certificate, basename(file)));
        const { edition, label, serial } = certificate;
        if (serial !== undefined)
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

const mustHaveKey = (file: string, keys: readonly Verifier[]): void => {
  if (keys.length === 0) throw refuse('restore.key-missing', file, {});
};

function readCheckpointPaper(file: string, text: string, keys: readonly Verifier[]): Checkpoint {
  mustHaveKey(file, keys);
  const opened = keys.map((key) => openCheckpoint(text, key));
  const sound = opened.find(({ ok }) => ok);
  if (sound?.ok) return sound.checkpoint;
  const [first] = opened;
  throw new Refusal([{ ...(first as { problem: Refusal['problems'][0] }).problem, where: file }]);
}

function readCertificatePaper(file: string, bytes: Buffer, text: string, keys: readonly Verifier[]) {
  mustHaveKey(file, keys);
  return within(file, () => {
    const code = isCode(text) ? fromCode(text) : undefined;
    if (code && !code.ok) throw new Refusal([code.problem]);
    const verdicts = keys.map((key) => verifyCertificate(code?.ok ? code.bytes : bytes, verifierLine(key)));
    const sound = verdicts.find(({ ok }) => ok);
    if (sound?.ok) return sound.verified;
    const [first] = verdicts;
    throw new Refusal(first && !first.ok ? first.problems : []);
  });
}

const eventsOf = ({ events }: Certificate, paper: string): (KnownEvent & RawEvent)[] =>
  events.flatMap(({ seq, body }) => {
    const event = registerEvent.parse(JSON.parse(body));
    return numberEvents([{ seq, event }], paper).map((one) => ({ ...one, body, leaf: leafHash(body) }));
  });

async function readExport(file: string): Promise<ExportPaper> {
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
  return { file, ...(edition !== undefined && { edition }), checkpoints, leaves, resumptions };
}

/** The events of an export from a place on; it was read whole before. */
export async function* exportedEvents(
  { file, edition }: ExportPaper,
  from: number,
): AsyncGenerator<RawEvent> {
  const handle = await openInput(file);
  try {
    const reader = new JsonLinesReader(file, handle.readLines({ encoding: 'utf8', autoClose: false }));
    await reader.head();
    await reader.checkpoints();
    for await (const event of reader.events(edition !== undefined)) if (event.seq >= from) yield event;
  } finally {
    await handle.close();
  }
}

const readingExport = (file: string, work: (reader: JsonLinesReader) => Promise<void>): Promise<void> =>
  withInput(file, (handle) =>
    work(new JsonLinesReader(file, handle.readLines({ encoding: 'utf8', autoClose: false }))),
  );

/** The events of numbers in an export, from a place on. */
export async function knownOf(paper: ExportPaper, from: number): Promise<KnownEvent[]> {
  const known: KnownEvent[] = [];
  for await (const raw of exportedEvents(paper, from))
    if (!paper.resumptions.passes(raw.seq))
      known.push(...numberEvents([{ seq: raw.seq, event: fromLeaf(raw.seq, raw) }], basename(paper.file)));
  return known;
}

/** The text of a key file. */
export const readKeyFile = async (file: string): Promise<string> =>
  (await readInput(file, LONGEST_KEY)).toString('utf8');
