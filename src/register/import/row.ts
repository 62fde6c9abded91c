import type { CsvRow } from '../../documents/csv/read-csv.js';
import { showInvisible } from '../../documents/invisible.js';
import type { Edition, Series } from '../../documents/schema/edition.js';
import type { LabelIndex } from '../../edition/label-index.js';
import { excludedBy, labelOf, type Numbered } from '../../edition/labels.js';
import { nearMissPhrase } from '../../edition/near-miss.js';
import { type Problem, Refusal } from '../../problem.js';
import type { PastEvent } from '../register.js';
import { dateProblems, textProblems, witnessProblems } from './cells.js';
import { problem } from './messages.js';

export const IMPORT_COLUMNS = {
  needed: ['series', 'number', 'label', 'state'],
  known: ['series', 'number', 'label', 'state', 'on', 'by', 'why', 'part', 'witness', 'to'],
};

/** The events by which a number comes to each state that an older register may give. */
const EVENTS_TO = {
  issued: ['issued'],
  engraved: ['issued', 'engraved'],
  inspected: ['issued', 'engraved', 'inspected'],
  delivered: ['issued', 'engraved', 'inspected', 'delivered'],
  withheld: ['issued', 'withheld'],
  scrapped: ['issued', 'engraved', 'scrapped'],
  destroyed: ['issued', 'engraved', 'scrapped', 'destroyed'],
  recut: ['issued', 'engraved', 'scrapped', 'destroyed', 'recut'],
  lost: ['issued', 'engraved', 'lost'],
  stolen: ['issued', 'engraved', 'stolen'],
  returned: ['issued', 'engraved', 'inspected', 'delivered', 'returned'],
  void: ['void'],
} as const satisfies Readonly<Record<string, readonly PastEvent['event'][]>>;

export type PastState = keyof typeof EVENTS_TO;

const STATES = Object.keys(EVENTS_TO);
const isPastState = (text: string): text is PastState => Object.hasOwn(EVENTS_TO, text);
/** Events that can be about one part. */
const PART_EVENTS: ReadonlySet<PastEvent['event']> = new Set(['engraved', 'scrapped', 'destroyed', 'recut']);

const LONGEST = 200;

/** One row that can be entered. */
export interface PastRow {
  readonly row: number;
  readonly numbered: Numbered;
  readonly state: PastState;
  readonly part?: string;
  readonly events: readonly PastEvent[];
}

export interface ImportContext {
  /** The list, for messages. */
  readonly file: string;
  readonly labels: LabelIndex;
  /** Who imports it. */
  readonly by: string;
  /** The parts of a piece that bear its number. */
  readonly parts: readonly string[];
  readonly now: Date;
  /** Told after each row how many were compared. */
  readonly progress?: (done: number, of: number) => void;
}

export const whereOfRow = (file: string, row: number): string => `${file}: row ${row}`;

/** Reads a row, with everything that is wrong with it by itself. */
export function readRow(
  { row, cells }: CsvRow,
  context: ImportContext,
): { past?: PastRow; problems: Problem[] } {
  const where = whereOfRow(context.file, row);
  const { edition, editionId } = context.labels;
  const cell = (name: string): string => (cells[name] ?? '').trim();
  const problems: Problem[] = [];

  const series = seriesIn(edition, cell('series'), where, problems);
  const number = numberIn(cell('number'), where, problems);
  const label = cells.label ?? '';
  const planned = series && number ? labelIn(series, number) : undefined;
  if (series && number) problems.push(...placeProblems(series, number, where));
  if (planned !== undefined && label !== planned)
    problems.push(labelProblem(label, planned, context.labels, where));
  const state = cell('state').toLowerCase();
  if (!isPastState(state))
    problems.push(
      problem('import.state-unknown', where, { text: quoteCell(cell('state'), 40), known: STATES }),
    );
  problems.push(...dateProblems(cell('on'), context.now, where));
  const by = cell('by') || context.by;
  const [part, witness, to] = [cell('part'), cell('witness'), cell('to')];
  if (isPastState(state)) problems.push(...stateProblems(state, part, witness, to, context.parts, where));
  if (witness !== '') problems.push(...witnessProblems(witness, [by, context.by], where));
  for (const column of IMPORT_COLUMNS.known) {
    // A label that is the planned one may begin as it likes.
    const isPlannedLabel = column === 'label' && label === planned;
    if (!isPlannedLabel) problems.push(...textProblems(column, cells[column] ?? '', where));
  }
  const why = whyOf(row, by, cell('why'), context.by);
  if (problems.length === 0 && why.length > LONGEST)
    problems.push(problem('import.too-long', where, { column: 'why', length: why.length, most: LONGEST }));
  if (problems.length > 0 || !isPastState(state) || !series || !number) return { problems };

  const numbered = { series: series.id, number, label };
  const common = { ...numbered, edition: editionId, by, why, on: cell('on') || undefined };
  const events = eventsTo(state, witness, to).map(
    (event): PastEvent => ({
      ...common,
      event,
      ...(event === 'issued' && context.parts.length > 0 && { parts: context.parts }),
      ...(part !== '' && PART_EVENTS.has(event) && { part }),
      ...(event === 'destroyed' && { witness }),
      ...(event === 'delivered' && to !== '' && { to }),
    }),
  );
  return { past: { row, numbered, state, part: part || undefined, events }, problems };
}

/**
 * A number that was void after a piece of it was destroyed has the destruction in its past, and one that was lost by its
 * buyer the delivery.
 */
function eventsTo(state: PastState, witness: string, to: string): readonly PastEvent['event'][] {
  if (state === 'void' && witness !== '') return [...EVENTS_TO.destroyed, 'void'];
  if ((state === 'lost' || state === 'stolen') && to !== '') return [...EVENTS_TO.delivered, state];
  return EVENTS_TO[state];
}

const quoteCell = (text: string, longest: number): string => showInvisible(text.slice(0, longest));

function seriesIn(
  edition: Pick<Edition, 'series'>,
  id: string,
  where: string,
  problems: Problem[],
): Series | undefined {
  const series = edition.series.find((s) => s.id === id);
  const known = edition.series.map((s) => s.id);
  if (!series) problems.push(problem('import.series-unknown', where, { series: quoteCell(id, 60), known }));
  return series;
}

function numberIn(text: string, where: string, problems: Problem[]): number | undefined {
  const number = /^[0-9]{1,6}$/.test(text) ? Number(text) : 0;
  if (number > 0) return number;
  problems.push(problem('import.number-unreadable', where, { text: quoteCell(text, 40) }));
  return undefined;
}

function whyOf(row: number, by: string, why: string, importedBy: string): string {
  const hand = by === importedBy ? '' : `, entered by ${importedBy}`;
  return `from older register, row ${row}${hand}${why === '' ? '' : `: ${why}`}`;
}

function placeProblems(series: Series, number: number, where: string): Problem[] {
  const { id, from, to } = series;
  const why = excludedBy(series, number)?.why;
  if (why !== undefined) return [problem('import.number-excluded', where, { number, why })];
  if (number >= from && number <= to) return [];
  return [problem('import.number-outside', where, { number, series: id, from, to })];
}

function labelIn(series: Series, number: number): string | undefined {
  try {
    return labelOf(series, number);
  } catch (error) {
    if (error instanceof Refusal) return undefined;
    throw error;
  }
}

function labelProblem(text: string, planned: string, { nearMisses }: LabelIndex, where: string): Problem {
  const misses = nearMisses(text);
  const nearest = misses.find(({ candidate }) => candidate.label === planned) ?? misses[0];
  const values = { label: planned, text: quoteCell(text, 60) };
  return nearest
    ? problem('import.label-mistyped', where, { ...values, suggestion: nearMissPhrase(nearest) })
    : problem('import.label-differs', where, values);
}

function stateProblems(
  state: PastState,
  part: string,
  witness: string,
  to: string,
  parts: readonly string[],
  where: string,
): Problem[] {
  const problems: Problem[] = [];
  const isDestroyed = eventsTo(state, witness, to).includes('destroyed');
  if (isDestroyed && witness === '') problems.push(problem('import.witness-missing', where, { state }));
  if (!isDestroyed && witness !== '') problems.push(problem('import.witness-not-wanted', where, { state }));
  if (to !== '' && !eventsTo(state, witness, to).includes('delivered'))
    problems.push(problem('import.to-not-wanted', where, { state }));
  if (part === '') return problems;
  if (!parts.includes(part)) {
    const given = { part: quoteCell(part, 60) };
    problems.push(
      parts.length === 0
        ? problem('import.no-parts', where, given)
        : problem('import.part-unknown', where, { ...given, known: parts }),
    );
  }
  if (state !== 'issued' && !PART_EVENTS.has(state))
    problems.push(problem('import.state-of-whole', where, { state }));
  return problems;
}
