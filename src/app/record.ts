import { LARGEST_CSV_BYTES, readCsv } from '../documents/csv/read-csv.js';
import { type LabelIndex, labelIndexOf } from '../edition/label-index.js';
import { type Problem, Refusal } from '../problem.js';
import { EVENT_LIST_COLUMNS, readListedEvent } from '../register/import/event-list.js';
import type { NumberStatus } from '../register/lifecycle.js';
import type { ManyRequest, Register } from '../register/register.js';
import { REASONED_EVENTS, RECORDABLE } from '../register/transitions.js';
import { currentTerms } from './current-terms.js';
import { lookUpNumbers, type NamedNumbers } from './find-numbers.js';
import { readInput } from './input-file.js';
import { problem, refuse } from './messages.js';
import { editionOf, type OpenDocuments } from './open-documents.js';
import { openForEntry } from './open-for-entry.js';
import { signAfter, type TellProblem } from './sign-log.js';

/** What happened, by the order. */
interface Occurrence {
  /** One of `RECORDABLE`; another is refused. */
  readonly event?: string;
  readonly on?: string;
  readonly why?: string;
  readonly part?: string;
  readonly witness?: string;
  readonly to?: string;
}

export interface RecordOrder extends Occurrence {
  readonly edition: string;
  /** Labels, tickets and ranges of labels; each number is recorded once. */
  readonly labels?: readonly string[];
  /** A list in CSV of labels and what happened to each, in place of labels. */
  readonly list?: string;
  readonly by: string;
  /** Asking again with the same key records it once. */
  readonly key?: string;
  /** Only says what it would come to. */
  readonly dryRun?: boolean;
}

/**
 * Records what happened to numbers, all of it in one transaction or nothing, and signs the log; gives the status of each
 * number. Throws a Refusal: exit 2 for a wrong order or an unknown label, 3 for what cannot happen to a number now.
 */
export async function recordEvents(
  workshop: OpenDocuments,
  order: RecordOrder,
  notSigned: TellProblem = () => undefined,
): Promise<NumberStatus[]> {
  const edition = editionOf(workshop, order.edition);
  const labelled = order.list === undefined ? labelledEntries(order) : undefined;
  const register = await openForEntry(workshop);
  try {
    const entries = labelled ?? (await listedEntries(register, order, order.list!));
    const requests = await requestsOf(register, labelIndexOf(edition, order.edition), order, entries);
    const terms = currentTerms(workshop, edition);
    if (order.dryRun) return lastOfEach(await register.checkAll(requests, { terms }));
    const statuses = await register.recordAll(requests, { key: order.key, terms });
    await signAfter(workshop, register, notSigned);
    return lastOfEach(statuses);
  } finally {
    await register.close();
  }
}

/** A text that names numbers, and what happened to them. */
interface Entry extends NamedNumbers {
  readonly occurrence: Occurrence;
  /** What is wrong with a row of a list by itself. */
  readonly problems?: readonly Problem[];
}

/** So many are named: after them the rest says nothing new. */
const MOST_PROBLEMS = 20;

function labelledEntries({ labels = [], ...occurrence }: RecordOrder): Entry[] {
  const problems = occurrenceProblems(occurrence, 'record');
  if (labels.length === 0) problems.push(problem('record.no-number', 'record', {}));
  if (problems.length > 0) throw new Refusal(problems);
  return labels.map((text) => ({ text, occurrence }));
}

/** What a row leaves empty is as the order says. */
async function listedEntries(register: Register, order: RecordOrder, file: string): Promise<Entry[]> {
  const rows = readCsv(file, await readInput(file, LARGEST_CSV_BYTES), EVENT_LIST_COLUMNS);
  if (rows.length === 0) throw refuse('record.list-empty', file, {});
  const now = await register.entryTime();
  return rows.map((row): Entry => {
    const { where, label, occurrence, problems: ofCells } = readListedEvent(row, file, now);
    const whole = { ...order, ...occurrence };
    const problems = [...ofCells, ...occurrenceProblems(whole, where)];
    if (label === '') problems.push(problem('record.no-number', where, {}));
    return { text: label, where, occurrence: whole, problems };
  });
}

/**
 * What is wrong with rows of a list, and how many are, said first: a wrong list is one thing, whichever row comes first and
 * whatever is wrong with it.
 */
function wrongList(file: string, rows: readonly (readonly Problem[])[]): Refusal {
  const wrong = rows.filter((problems) => problems.length > 0);
  const head = problem('record.list-wrong', file, { wrong: wrong.length, rows: rows.length });
  return new Refusal([head, ...wrong.flat().slice(0, MOST_PROBLEMS)]);
}

/** What is wrong with an occurrence before any number is looked at. */
export function occurrenceProblems({ event = '', why }: Occurrence, where: string): Problem[] {
  const known = RECORDABLE.find((one) => one === event);
  if (!known)
    return [problem('record.event-unknown', where, { event: event.slice(0, 60), known: RECORDABLE })];
  const asksReason = REASONED_EVENTS.some((one) => one === event);
  return asksReason && why === undefined ? [problem('record.no-reason', where, { event })] : [];
}

async function requestsOf(
  register: Register,
  index: LabelIndex,
  { by, list }: RecordOrder,
  entries: readonly Entry[],
): Promise<ManyRequest[]> {
  const found = await lookUpNumbers(register, index, entries);
  const problems = entries.map(({ text, problems = [] }, i) => {
    const one = found[i]!;
    return one.ok || text === '' ? problems : [...problems, one.problem];
  });
  if (problems.some((some) => some.length > 0))
    throw list === undefined ? new Refusal(problems.flat()) : wrongList(list, problems);
  const requests = entries.flatMap(({ where, occurrence }, i) => {
    const { event, on, why, part, witness, to } = occurrence;
    const one = found[i]!;
    return (one.ok ? one.numbered : []).map((numbered) => ({
      where,
      request: {
        ...{ ...numbered, edition: index.editionId, by, on, why, part, witness, to },
        event: event as ManyRequest['event'],
      },
    }));
  });
  // A label that is named twice, or lies in two ranges, is meant once; a row of a list is an event of its own.
  const first = new Map(
    requests.map(({ request }) => [request.label, request]).reverse() as [string, ManyRequest][],
  );
  return requests
    .filter(({ where, request }) => where !== undefined || first.get(request.label) === request)
    .map(({ request }) => request);
}

/** A number that several events were entered of has the status that the last led to. */
function lastOfEach(statuses: readonly NumberStatus[]): NumberStatus[] {
  return [...new Map(statuses.map((status) => [status.label, status])).values()];
}
