import { basename } from 'node:path';
import { labelIndexOf } from '../edition/label-index.js';
import { plannedNumbers } from '../edition/labels.js';
import { findNumber } from '../edition/ticket.js';
import { type Problem, Refusal } from '../problem.js';
import { fromLeaf, isOfNumber, LARGEST_LOSS } from '../register/event.js';
import { historyOf, isSameKey, type KeyHistory } from '../register/log/key-history.js';
import { lastRemembered, readHistory, readKey, retireKey } from '../register/log/keys.js';
import type { Checkpoint } from '../register/log/note.js';
import { writeSeen } from '../register/log/seen.js';
import { openRegister } from '../register/open.js';
import { chooseBase, provedSize, unmetMarks, wordForWord } from '../register/recovery/known-log.js';
import { type KnownEvent, type RecoveredNumber, recoverNumber } from '../register/recovery/recover-number.js';
import type { PastEvent, RawEvent, Register, StoredEvent } from '../register/register.js';
import type { Resumptions } from '../register/resumption/resumptions.js';
import { currentTerms, numberedParts } from './current-terms.js';
import { PROGRAM_NAME } from './enter-programs.js';
import { problem, refuse } from './messages.js';
import { editionOf, type OpenDocuments, registerPlace } from './open-documents.js';
import { readKeyFile } from './public-keys.js';
import { entryDeps, registerDeps } from './register-deps.js';
import { checkAgainstMemory, type Recalled, recall, tellProblem } from './register-memory.js';
import { type ExportPaper, exportedEvents, knownOf, type Papers, readPapers } from './restore-papers.js';
import { logOrigin } from './sign-log.js';
import { makeWorkshopIdentity } from './workshop-identity.js';

export interface RestoreOrder {
  readonly files: readonly string[];
  /** Files of the maker's public keys; without them the key of this machine. */
  readonly keys?: readonly string[];
  readonly by?: string;
  readonly why?: string;
  readonly dryRun?: boolean;
}

export interface RecoveredLabel {
  readonly edition: string;
  readonly label: string;
  /** What was entered of it. */
  readonly events: readonly string[];
}

export interface Restored {
  readonly ok: boolean;
  /** Of the register now. */
  readonly events: number;
  readonly checkpoints: number;
  /** The one edition the file holds; absent when it holds every one. */
  readonly edition: string | undefined;
  /** Events that came back word for word. */
  readonly restored: number;
  readonly recovered: readonly RecoveredLabel[];
  /** Numbers that went to two pieces. */
  readonly twice: readonly { readonly edition: string; readonly label: string }[];
  /** Events that a paper, the key or this machine knows of, and nobody can account for. */
  readonly missing: number;
  /** Whether the loss was answered for: this machine goes on with this register. */
  readonly answered: boolean;
  readonly keyEnded: boolean;
  /** Whether the register has all that the papers, the key and this machine know of: then nothing is entered. */
  readonly complete: boolean;
  readonly remarks: readonly Problem[];
}

/**
 * Restores a register: events of exports, and after a loss also what other papers prove to be taken, in whatever order
 * they come. All of it or none. Where something is lost for good, somebody must answer for going on. Throws a Refusal:
 * exit 2 for what is no paper, 3 for one that is damaged or that nobody signed, and where nobody answers.
 */
export async function restoreRegister(workshop: OpenDocuments, order: RestoreOrder): Promise<Restored> {
  const { by, why, dryRun = false } = order;
  const recalled = await recall(workshop);
  const register = await openRegister(registerPlace(workshop), entryDeps(workshop.environment));
  try {
    const keys = await keysOf(workshop, register, order.keys ?? []);
    const papers = await readPapers(order.files, keys);
    const left = await leavesOf(register);
    const { base, forks } = chooseBase(left, papers.exports);
    const onlyExports = papers.exports.length === order.files.length;
    const answers = by !== undefined && why !== undefined;
    if (onlyExports && !answers && left.length > 0 && !base && forks.length > 0)
      throw refuseRestored(workshop);
    const signed = await signedHere(workshop, register);
    const marks = [...papers.checkpoints, ...(signed ? [signed] : [])];
    const leaves = base?.leaves ?? left;
    const tail = wordForWord(leaves, papers.proved, marks);
    const resumptions = base?.resumptions ?? (await register.resumptions());
    const size = leaves.length + tail.length;
    const all = [...leaves, ...tail.map(({ leaf }) => leaf)];
    const after = { size: async () => size, leafAt: async (seq: number) => all[seq] };
    const unmet = unmetMarks(all, marks);
    const lost = await problemOf(checkAgainstMemory(after, recalled));
    const claimed = Math.max(size, claimedBy(marks, recalled));
    const ahead = new Set(papers.proved.filter(({ seq }) => seq >= size).map(({ seq }) => seq));
    const missing = claimed - size - ahead.size;
    // What this machine saw is no proof: of all that was before, it has the hash of the first event and of the last.
    const signedMarks = [...marks, ...(base?.signed ? [base.signed] : [])];
    const proved = Math.max(left.length, provedSize(all, signedMarks));

    const known: KnownEvent[] = [...papers.proved];
    for (const { paper, from } of forks) known.push(...(await knownOf(paper, from)));
    const { numbers, problems } = await recoverAll(workshop, {
      register,
      papers,
      known,
      base,
      tail,
      left: left.length,
      resumptions,
      by: by ?? PROGRAM_NAME,
    });
    const changed = numbers.filter(({ events }) => events.length > 0);
    const twice = numbers.filter((one) => one.twice).map(({ edition, label }) => ({ edition, label }));
    const unsigned = [
      ...(base && size > proved ? [unsignedIn(base, size - proved)] : []),
      ...(changed.length + twice.length > 0 ? unsignedForks(forks, marks) : []),
    ];
    const whole = unmet.length === 0 && lost.length === 0 && missing === 0;
    const differing = unmet
      .filter((one) => one.size <= size)
      .map((one) => problem('restore.other-history', `checkpoint of ${one.size} events`, {}));
    // An export of other events is another register, even where it says the same of every number.
    const lacksNothing =
      left.length > 0 && size === left.length && forks.every(({ paper }) => paper.edition !== undefined);
    const result: Restored = {
      ...{ ok: twice.length === 0, events: size, checkpoints: (await register.checkpoints()).length },
      edition: base?.edition,
      restored: size - left.length,
      recovered: changed.map(({ edition, label, events }) => ({
        edition,
        label,
        events: events.map(({ event }) => event),
      })),
      ...{
        twice,
        missing,
        answered: false,
        keyEnded: false,
        remarks: [...problems, ...differing, ...unsigned],
      },
      complete: whole && lacksNothing && changed.length === 0 && twice.length === 0 && problems.length === 0,
    };
    if (dryRun || result.complete) return result;
    // That a certificate was made, it proves by itself; nothing else is known of it here.
    const needsAnswer =
      !whole || changed.some(({ events }) => events.some(({ event }) => event !== 'certified'));
    if ((needsAnswer || unsigned.length > 0) && !answers) {
      // What nobody signed proves nothing.
      await rememberProof(
        workshop,
        recalled,
        left,
        unsigned.length > 0 ? claimedBy(marks, recalled) : claimed,
      );
      const values = { numbers: changed.length, missing, size, claimed };
      throw new Refusal([
        ...(needsAnswer ? [problem('restore.nobody-answers', `register ${recalled.now.place}`, values)] : []),
        ...(missing > 0 ? [] : lost),
        ...differing,
        ...unsigned,
      ]);
    }
    const editions = editionsOf(workshop, changed, answers);
    if (answers) {
      const words = `goes on after a loss with ${size} of ${claimed} events, ${missing} unaccounted for: ${why}`;
      const note = await notedOn(workshop, register, base, resumptions, changed);
      if (note)
        addNote(workshop, editions, size === 0, {
          ...{ ...note, event: 'noted', by, why: words.slice(0, 200) },
          ...(missing > 0 && { missing: Math.min(missing, LARGEST_LOSS) }),
        });
    }
    await register.recover({
      ...{
        asOf: left.length,
        next: nextEvents(base, left.length, tail),
        checkpoints: (base?.checkpoints ?? []).filter((one) => !resumptions.ofCheckpoint(one)),
        resumptions,
      },
      ...{
        by: by ?? '',
        why: why ?? '',
        editions: [...editions].map(([edition, one]) => ({ edition, ...one })),
      },
    });
    const ends = signed !== undefined && !whole && unmetMarks(all, [signed]).length > 0;
    if (ends) await retireKey(workshop.environment.keysFolder, signed.origin, signed.size);
    await rememberRestored(workshop, recalled, register);
    const [events, checkpoints] = [await register.size(), (await register.checkpoints()).length];
    return { ...result, events, checkpoints, answered: answers, keyEnded: ends };
  } finally {
    await register.close();
  }
}

/** How many events checkpoints and this machine know of. */
const claimedBy = (marks: readonly Checkpoint[], { own, others, now }: Recalled): number =>
  Math.max(
    0,
    ...marks.map((one) => one.size),
    ...[own, ...others.filter(({ folder }) => folder === now.folder)].map((one) =>
      Math.max(one?.size ?? 0, one?.proved ?? 0),
    ),
  );

const unsignedIn = ({ file }: ExportPaper, n: number): Problem => problem('restore.unsigned', file, { n });

/** Exports of other events, of which numbers are taken that nobody signed. */
const unsignedForks = (
  forks: readonly { readonly paper: ExportPaper; readonly from: number }[],
  marks: readonly Checkpoint[],
): Problem[] =>
  forks.flatMap(({ paper, from }) => {
    const known = paper.edition === undefined ? [...marks, ...(paper.signed ? [paper.signed] : [])] : [];
    const n = paper.leaves.length - Math.max(from, provedSize(paper.leaves, known));
    return n > 0 ? [unsignedIn(paper, n)] : [];
  });

const refuseRestored = (workshop: OpenDocuments): Refusal => {
  const place = registerPlace(workshop);
  return refuse('restore.not-empty', place.kind === 'sqlite' ? place.file : 'register', {});
};

async function keysOf(
  workshop: OpenDocuments,
  register: Register,
  files: readonly string[],
): Promise<KeyHistory[]> {
  const folder = workshop.environment.keysFolder;
  const keptHere = async (origin: string) => readHistory(folder, origin);
  const keys: KeyHistory[] = [];
  for (const file of files) {
    const given = await readKeyFile(file);
    // This machine may know that a key ended since its public part was written down.
    const here = await keptHere(given.origin);
    const knows =
      here && given.keys.every((one) => here.keys.some((own) => isSameKey(one.verifier, own.verifier)));
    keys.push(knows ? here : given);
  }
  if (files.length > 0) return keys;
  const origin = logOrigin(workshop, (await register.checkpoints()).at(-1));
  const here = await keptHere(origin);
  const own = here ? undefined : await readKey(folder, origin);
  return here ? [here] : own ? [historyOf(own)] : [];
}

async function signedHere(workshop: OpenDocuments, register: Register): Promise<Checkpoint | undefined> {
  const origin = logOrigin(workshop, (await register.checkpoints()).at(-1));
  return lastRemembered(workshop.environment.keysFolder, origin);
}

async function leavesOf(register: Register): Promise<Buffer[]> {
  const leaves: Buffer[] = [];
  for await (const { leaf } of register.events()) leaves.push(leaf);
  return leaves;
}

async function problemOf(work: Promise<unknown>): Promise<readonly Problem[]> {
  try {
    await work;
    return [];
  } catch (error) {
    if (error instanceof Refusal) return error.problems;
    throw error;
  }
}

interface Sources {
  readonly register: Register;
  readonly papers: Papers;
  readonly known: readonly KnownEvent[];
  readonly base: ExportPaper | undefined;
  readonly tail: readonly RawEvent[];
  readonly left: number;
  readonly resumptions: Resumptions;
  readonly by: string;
}

type Recovered = RecoveredNumber & {
  readonly edition: string;
  readonly label: string;
  readonly series: string;
  readonly number: number;
};

interface Named {
  readonly edition: string;
  readonly series: string;
  readonly number: number;
  readonly label: string;
  readonly known: KnownEvent[];
  listedIn?: string;
}

/** What every number that papers name needs, in the order of editions and numbers. */
async function recoverAll(
  workshop: OpenDocuments,
  sources: Sources,
): Promise<{ numbers: Recovered[]; problems: Problem[] }> {
  const { register, papers, known, base, tail, left, resumptions, by } = sources;
  const named = new Map<string, Named>();
  const name = (one: Omit<Named, 'known' | 'listedIn'>): Named => {
    const key = `${one.edition} ${one.series} ${String(one.number).padStart(6, '0')} ${one.label}`;
    const { edition, series, number, label } = one;
    const found = named.get(key) ?? { edition, series, number, label, known: [] };
    named.set(key, found);
    return found;
  };
  const problems: Problem[] = [];
  for (const one of known) {
    if (!workshop.documents.editions.has(one.event.edition))
      throw refuse('restore.edition-unknown', one.paper, { edition: one.event.edition });
    name(one.event).known.push(one);
  }
  for (const { file, edition, labels } of papers.listed) {
    const id = await editionNamed(workshop, register, edition);
    if (id === undefined) throw refuse('restore.edition-unknown', file, { edition });
    const index = labelIndexOf(editionOf(workshop, id), id);
    for (const label of labels) {
      const found = findNumber(index, label);
      if (!found.ok) throw new Refusal([{ ...found.problem, where: `${file}: ${found.problem.where}` }]);
      name({ edition: id, ...found.numbered }).listedIn ??= basename(file);
    }
  }
  const histories = await historiesIn(base, left, tail, named, resumptions);
  const numbers: Recovered[] = [];
  const at = registerDeps.now().toISOString();
  for (const key of [...named.keys()].sort()) {
    const one = named.get(key)!;
    const { edition, label } = one;
    const history = [
      ...(await register.history(edition, label)),
      ...(histories.get(`${edition} ${label}`) ?? []),
    ];
    const seen = new Set<string>();
    const events = one.known
      .sort((a, b) => a.seq - b.seq || (JSON.stringify(a.event) < JSON.stringify(b.event) ? -1 : 1))
      .filter(({ seq, event }) => {
        const text = `${seq} ${JSON.stringify(event)}`;
        return !seen.has(text) && seen.add(text);
      });
    const number = recoverNumber(
      {
        ...{ ...one, known: events, history, certificates: certificatesOf(papers, one) },
        ...{ parts: numberedParts(workshop, editionOf(workshop, edition)) },
        editionClosed: (await register.isClosed(edition)) || histories.has(edition),
      },
      by,
      at,
    );
    problems.push(
      ...number.problems.map((found) => problem('restore.not-entered', `label ${label}`, { fault: found })),
    );
    numbers.push({ ...one, ...number });
  }
  return { numbers, problems };
}

/** The edition of a name: of several documents that have it, the one that the register knows by it. */
async function editionNamed(
  { documents }: OpenDocuments,
  register: Register,
  name: string,
): Promise<string | undefined> {
  const named = [...documents.editions].filter(([, one]) => one.name === name).map(([id]) => id);
  for (const id of named) if ((await register.terms(id))?.name === name) return id;
  return named[0];
}

const certificatesOf = ({ certificates }: Papers, { edition, label }: Pick<Named, 'edition' | 'label'>) =>
  certificates.filter((one) => one.edition === edition && one.label === label);

/** What the events that come back say of the named numbers; and by its id, each edition that they close. */
async function historiesIn(
  base: ExportPaper | undefined,
  left: number,
  tail: readonly RawEvent[],
  named: ReadonlyMap<string, Named>,
  resumptions: Resumptions,
): Promise<Map<string, Pick<StoredEvent, 'seq' | 'event'>[]>> {
  const histories = new Map<string, Pick<StoredEvent, 'seq' | 'event'>[]>();
  if (named.size === 0) return histories;
  const wanted = new Set([...named.values()].map(({ edition, label }) => `${edition} ${label}`));
  for await (const raw of nextEvents(base, left, tail)) {
    if (resumptions.passes(raw.seq)) continue;
    const event = fromLeaf(raw.seq, raw);
    if (event.type === 'closed') histories.set(event.edition, []);
    if (!isOfNumber(event)) continue;
    const key = `${event.edition} ${event.label}`;
    if (!wanted.has(key)) continue;
    const found = histories.get(key) ?? [];
    found.push({ seq: raw.seq, event });
    histories.set(key, found);
  }
  return histories;
}

async function* nextEvents(
  base: ExportPaper | undefined,
  left: number,
  tail: readonly RawEvent[],
): AsyncGenerator<RawEvent> {
  if (base) yield* exportedEvents(base, left);
  yield* tail;
}

interface ToEnter {
  terms?: ReturnType<typeof currentTerms>;
  readonly events: PastEvent[];
}

/** Without an answer nothing is entered but that certificates were made, and terms stay as they are. */
function editionsOf(
  workshop: OpenDocuments,
  changed: readonly Recovered[],
  answers: boolean,
): Map<string, ToEnter> {
  const editions = new Map<string, ToEnter>();
  for (const { edition, events } of changed) {
    const terms = answers ? { terms: currentTerms(workshop, editionOf(workshop, edition)) } : {};
    const found = editions.get(edition) ?? { ...terms, events: [] };
    found.events.push(...events);
    editions.set(edition, found);
  }
  return editions;
}

function addNote(
  workshop: OpenDocuments,
  editions: Map<string, ToEnter>,
  empty: boolean,
  note: PastEvent,
): void {
  const found = editions.get(note.edition);
  if (found) found.events.push(note);
  else {
    const terms = empty ? { terms: currentTerms(workshop, editionOf(workshop, note.edition)) } : {};
    editions.set(note.edition, { ...terms, events: [note] });
  }
}

/** The number that bears the note on the loss: one that came back, else the last of the register, else the first planned. */
async function notedOn(
  workshop: OpenDocuments,
  register: Register,
  base: ExportPaper | undefined,
  resumptions: Resumptions,
  changed: readonly Recovered[],
): Promise<Pick<PastEvent, 'edition' | 'series' | 'number' | 'label'> | undefined> {
  const pick = ({
    edition,
    series,
    number,
    label,
  }: Pick<PastEvent, 'edition' | 'series' | 'number' | 'label'>) => ({ edition, series, number, label });
  const [first] = changed;
  if (first) return pick(first);
  let last: ReturnType<typeof pick> | undefined;
  const events = base ? exportedEvents(base, 0) : register.events();
  for await (const raw of events) {
    if (resumptions.passes(raw.seq)) continue;
    const event = fromLeaf(raw.seq, raw);
    if (isOfNumber(event)) last = pick(event);
  }
  if (last) return last;
  for (const [edition, one] of workshop.documents.editions) {
    const [planned] = plannedNumbers(one);
    if (planned) return pick({ edition, ...planned });
  }
  return undefined;
}

/** From now on entries are refused until somebody answers for what papers prove to be missing. */
async function rememberProof(
  workshop: OpenDocuments,
  recalled: Recalled,
  left: readonly Buffer[],
  proved: number,
): Promise<void> {
  const { id, now, own, others } = recalled;
  const { environment, dir } = workshop;
  if (environment.keepsMemory === false || proved <= left.length) return;
  try {
    const known = own ?? others.find(({ folder }) => folder === now.folder);
    const mine = id ?? (await makeWorkshopIdentity(dir, known?.id));
    const seen = known ?? { size: left.length, first: left[0], last: left.at(-1) };
    await writeSeen(environment.keysFolder, {
      ...seen,
      ...now,
      id: mine,
      proved: Math.max(proved, known?.proved ?? 0),
    });
  } catch (error) {
    await tellProblem(workshop, error);
  }
}

/** This machine goes on with the register as it is now, whatever it saw before. */
async function rememberRestored(
  workshop: OpenDocuments,
  { id, now, others }: Recalled,
  register: Register,
): Promise<void> {
  const { environment, dir } = workshop;
  if (environment.keepsMemory === false) return;
  try {
    const same = others.find(({ folder }) => folder === now.folder);
    const mine = id ?? (await makeWorkshopIdentity(dir, same?.id));
    const size = await register.size();
    if (size === 0) return;
    const [first, last] = [await register.leafAt(0), await register.leafAt(size - 1)];
    await writeSeen(environment.keysFolder, { id: mine, ...now, size, first, last });
  } catch (error) {
    await tellProblem(workshop, error);
  }
}
