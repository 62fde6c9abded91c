import type { CsvRow } from '../documents/csv.js';
import type { Edition, Series } from '../documents/schema/edition.js';
import { excludedBy, labelOf, type Numbered } from '../edition/labels.js';
import { nameAsRead, oddLetters, shown } from '../edition/look-alike.js';
import { type NearMiss, nearMissWords } from '../edition/near-miss.js';
import { Refusal } from '../problem.js';
import { samePerson } from '../register/person.js';
import type { PastEvent } from '../register/register.js';
import { isFormula } from './csv-line.js';

export const IMPORT_COLUMNS = {
  needed: ['series', 'number', 'label', 'state'],
  known: ['series', 'number', 'label', 'state', 'on', 'by', 'why', 'part', 'witness', 'to'],
};

/** How a number comes to each state that an older register may tell. */
const WAYS = {
  issued: ['issued'],
  engraved: ['issued', 'engraved'],
  inspected: ['issued', 'engraved', 'inspected'],
  delivered: ['issued', 'engraved', 'inspected', 'delivered'],
  withheld: ['issued', 'withheld'],
  scrapped: ['issued', 'engraved', 'scrapped'],
  destroyed: ['issued', 'engraved', 'scrapped', 'destroyed'],
  recut: ['issued', 'engraved', 'scrapped', 'destroyed', 'recut'],
  void: ['void'],
} as const satisfies Readonly<Record<string, readonly PastEvent['event'][]>>;

export type PastState = keyof typeof WAYS;

const isPastState = (text: string): text is PastState => Object.hasOwn(WAYS, text);
/** What can be said of one part. */
const OF_PART: ReadonlySet<PastEvent['event']> = new Set(['engraved', 'scrapped', 'destroyed', 'recut']);

/** One row that can be entered. */
export interface PastRow {
  readonly row: number;
  readonly numbered: Numbered;
  readonly state: PastState;
  readonly part?: string;
  readonly events: readonly PastEvent[];
}

export interface ImportContext {
  readonly edition: Edition;
  readonly editionId: string;
  readonly by: string;
  /** The parts of a piece that bear its number. */
  readonly parts: readonly string[];
  readonly now: Date;
  near(label: string): NearMiss[];
}

/** Reads a row, with everything that is wrong with it by itself. */
export function readRow(
  { row, cells }: CsvRow,
  context: ImportContext,
): { past?: PastRow; faults: string[] } {
  const faults: string[] = [];
  const cell = (name: string): string => (cells[name] ?? '').trim();
  const seriesId = cell('series');
  const series = context.edition.series.find((s) => s.id === seriesId);
  if (!series) faults.push(`the edition has no series "${shown(seriesId.slice(0, 60))}"`);
  const number = /^[0-9]{1,6}$/.test(cell('number')) ? Number(cell('number')) : undefined;
  if (number === undefined || number < 1) faults.push(`"${shown(cell('number').slice(0, 40))}" is no number`);
  const label = cells.label ?? '';
  const own = series && number ? labelIn(series, number) : undefined;
  if (series && number) faults.push(...placeFaults(series, number));
  if (own !== undefined && label !== own) faults.push(labelFault(label, own, context));
  const state = cell('state').toLowerCase();
  if (!isPastState(state))
    faults.push(`"${shown(cell('state').slice(0, 40))}" is no state (${Object.keys(WAYS).join(', ')})`);
  faults.push(...dayFaults(cell('on'), context.now));
  const by = cell('by') || context.by;
  const witness = cell('witness');
  if (isPastState(state))
    faults.push(...stateFaults(state, cell('part'), witness, cell('to'), context.parts));
  if (witness !== '') faults.push(...witnessFaults(witness, [by, context.by]));
  for (const name of IMPORT_COLUMNS.known) {
    const text = cells[name] ?? '';
    // The label is held against the document's own, which may begin as it likes.
    if (name === 'label' && text === own) continue;
    if (isFormula(text)) faults.push(`its ${name} begins like a formula: ${shown(text.slice(0, 40))}`);
    if (name !== 'label') for (const odd of oddLetters(text)) faults.push(`its ${name} ${odd}`);
    if (/[\p{Cc}\u2028\u2029]/u.test(text))
      faults.push(`its ${name} holds a line end or another control character`);
    if (text.length > (name === 'by' || name === 'witness' ? 120 : 200))
      faults.push(`its ${name} is too long`);
  }
  if (faults.length > 0 || !isPastState(state) || !series || !number) return { faults };
  const told = { by, on: cell('on') || undefined, why: cell('why') };
  const why = whyOf(row, told, context.by);
  if (why.length > 200) return { faults: ['its why is too long'] };
  const numbered = { series: series.id, number, label };
  const given = { ...numbered, edition: context.editionId, by, why, on: told.on };
  const part = cell('part') || undefined;
  const events = wayOf(state, witness).map(
    (event): PastEvent => ({
      ...given,
      event,
      ...(event === 'issued' && context.parts.length > 0 && { parts: context.parts }),
      ...(part !== undefined && OF_PART.has(event) && { part }),
      ...(event === 'destroyed' && { witness }),
      ...(event === 'delivered' && cell('to') !== '' && { to: cell('to') }),
    }),
  );
  return { past: { row, numbered, state, part, events }, faults };
}

/** A number that was void after a piece of it was destroyed has the destruction in its past. */
const wayOf = (state: PastState, witness: string): readonly PastEvent['event'][] =>
  state === 'void' && witness !== '' ? [...WAYS.destroyed, 'void'] : WAYS[state];

function whyOf(row: number, { by, why }: { by: string; why: string }, enteredBy: string): string {
  const hand = by === enteredBy ? '' : `, entered by ${enteredBy}`;
  return `from older register, row ${row}${hand}${why === '' ? '' : `: ${why}`}`;
}

function placeFaults(series: Series, number: number): string[] {
  const excluded = excludedBy(series, number);
  if (excluded) return [`number ${number} is excluded: ${excluded.why}`];
  if (number < series.from || number > series.to)
    return [`series ${series.id} runs from ${series.from} to ${series.to}`];
  return [];
}

function labelIn(series: Series, number: number): string | undefined {
  try {
    return labelOf(series, number);
  } catch (error) {
    if (error instanceof Refusal) return undefined;
    throw error;
  }
}

function labelFault(label: string, own: string, { near }: ImportContext): string {
  const misses = near(label);
  const fit = misses.find((miss) => miss.numbered.label === own) ?? misses[0];
  const hint = fit ? `; near is ${nearMissWords(fit)}` : '';
  return `the edition labels it ${own}, not "${shown(label.slice(0, 60))}"${hint}`;
}

function dayFaults(on: string, now: Date): string[] {
  if (on === '') return [];
  if (!/^\d{4}-\d\d-\d\d(T\d\d:\d\d:\d\d\.\d{3}Z)?$/.test(on))
    return [`"${shown(on.slice(0, 40))}" is no date like 2031-03-01`];
  const day = new Date(on.length === 10 ? `${on}T00:00:00.000Z` : on);
  if (Number.isNaN(day.getTime()) || !day.toISOString().startsWith(on.slice(0, 10)))
    return [`the calendar has no ${on}`];
  // A day may have begun to the east of here.
  const DAY_MS = 24 * 60 * 60 * 1000;
  return day.getTime() > now.getTime() + (on.length === 10 ? DAY_MS / 2 : 0)
    ? [`${on} has not come yet`]
    : [];
}

function stateFaults(
  state: PastState,
  part: string,
  witness: string,
  to: string,
  parts: readonly string[],
): string[] {
  const faults: string[] = [];
  const way: readonly PastEvent['event'][] = wayOf(state, witness);
  const destroys = way.includes('destroyed');
  if (destroys && witness === '') faults.push(`${state} needs a witness of the destruction`);
  if (!destroys && witness !== '') faults.push(`${state} has no destruction to witness`);
  if (to !== '' && state !== 'delivered') faults.push(`${state} goes to nobody`);
  if (part === '') return faults;
  if (!parts.includes(part))
    faults.push(
      `no part ${shown(part.slice(0, 60))} bears the number (${parts.join(', ') || 'none is named'})`,
    );
  if (state !== 'issued' && !OF_PART.has(state as PastEvent['event']))
    faults.push(`${state} is said of the whole piece, not of a part`);
  return faults;
}

function witnessFaults(witness: string, recorders: readonly string[]): string[] {
  if (recorders.some((by) => samePerson(by, witness))) return ['the witness is the one who recorded it'];
  const like = recorders.find((by) => nameAsRead(by) === nameAsRead(witness));
  return like ? [`the witness "${shown(witness)}" reads like "${like}", who recorded it`] : [];
}
