import { type Problem, Refusal } from '../../problem.js';
import type { NumberEvent } from '../event.js';
import { applyEvent, type Life, type State } from '../lifecycle.js';
import { detach, type EventFields } from '../parse-event-fast.js';
import { samePerson } from '../person.js';
import { problem } from './messages.js';
import { SeriesNumbers } from './series-numbers.js';

/** A state that a number can be in, shared by all numbers in it, with the transitions that were looked up before. */
interface LifecycleState {
  readonly index: number;
  readonly life: Life | undefined;
  readonly transitions: Map<string, LifecycleState>;
}

interface EditionNumbers {
  readonly series: Map<string, SeriesNumbers>;
  /** The number of each label, as `numberKey`. */
  readonly labels: Map<string, number>;
  closed: boolean;
}

const NONE: readonly Problem[] = [];

/** Numbers end below this. */
const NUMBERS_PER_SERIES = 100_000;

const numberKey = (series: SeriesNumbers, number: number): number =>
  series.index * NUMBERS_PER_SERIES + number;

/** A number that the events of an edition name, and what they come to. */
export interface ReplayedNumber {
  readonly number: number;
  /** Place in the sequence of the first event that names it. */
  readonly firstEvent: number;
  readonly state: State;
  readonly pieces: number;
}

/** The numbers of one series, built one at a time: a list of all would fill the memory. */
export interface ReplayedSeries {
  readonly count: number;
  /** Ascending. */
  numbers(): Iterable<ReplayedNumber>;
  at(number: number): ReplayedNumber | undefined;
  /** Whether this is the label of the number. */
  hasLabel(number: number, label: string): boolean;
}

/**
 * Replays the events of every number by the register's own rules. The rules are asked once for each transition between
 * two states, and the answer is remembered: a million events then cost a million look-ups and little memory.
 */
export class LifecycleReplay {
  readonly #states: LifecycleState[] = [{ index: 0, life: undefined, transitions: new Map() }];
  readonly #byForm = new Map<string, LifecycleState>();
  readonly #editions = new Map<string, EditionNumbers>();
  readonly #samePerson = new Map<string, boolean>();

  /** Applies an event of a number. Where a rule is broken, gives the problems, and the number stays as it was. */
  apply(event: EventFields, seq: number): readonly Problem[] {
    const { series, key, next } = this.#transitionOf(event, seq);
    if (!('index' in next)) return next;
    const { number, label } = event;
    if (series.has(number)) series.setState(number, next.index);
    else {
      series.add(number, next.index, seq);
      this.#edition(event.edition).labels.set(detach(label), key);
    }
    return NONE;
  }

  /** The problems that applying an event would give; changes nothing. */
  check(event: EventFields, seq: number): readonly Problem[] {
    const { next } = this.#transitionOf(event, seq);
    return 'index' in next ? NONE : next;
  }

  #transitionOf(event: EventFields, seq: number) {
    const edition = this.#edition(event.edition);
    const series = seriesOf(edition, event.series);
    const { number, label } = event;
    const key = numberKey(series, number);
    const known = series.has(number);
    const bearer = edition.labels.get(label);
    const refused = (next: readonly Problem[]) => ({ series, key, next });
    if (bearer !== undefined && bearer !== key) return refused([labelClash(edition, event, bearer, seq)]);
    if (known && bearer === undefined) {
      const values = { number, series: event.series, label, first: series.firstEvent(number) };
      return refused([problem('audit.number-relabelled', `event ${seq}`, values)]);
    }
    const before = this.#states[known ? series.state(number) : 0]!;
    const next = this.#transition(before, event, edition.closed);
    if ('index' in next) return { series, key, next };
    return refused(
      next.map((rule) => problem('audit.rule-broken', `event ${seq}`, { place: rule.where, rule })),
    );
  }

  /** Applies the closing of an edition. */
  close(id: string, seq: number): readonly Problem[] {
    const edition = this.#edition(id);
    if (edition.closed) return [problem('audit.closed-twice', `event ${seq}`, { edition: id })];
    edition.closed = true;
    return NONE;
  }

  /** What would be wrong with closing an edition, or with changing its terms. */
  closedProblem(id: string, seq: number): readonly Problem[] {
    return this.#editions.get(id)?.closed
      ? [problem('audit.closed-twice', `event ${seq}`, { edition: id })]
      : NONE;
  }

  editions(): string[] {
    return [...this.#editions.keys()];
  }

  /** The series of an edition that the events name. */
  seriesOf(edition: string): ReadonlyMap<string, ReplayedSeries> {
    const numbers = this.#editions.get(edition);
    if (!numbers) return new Map();
    return new Map([...numbers.series].map(([id, series]) => [id, this.#view(numbers, series)]));
  }

  #view({ labels }: EditionNumbers, series: SeriesNumbers): ReplayedSeries {
    const at = (number: number): ReplayedNumber | undefined => {
      if (!series.has(number)) return undefined;
      const { state, pieces } = this.#states[series.state(number)]!.life!;
      return { number, firstEvent: series.firstEvent(number), state, pieces };
    };
    return {
      count: series.count,
      at,
      hasLabel: (number, label) => labels.get(label) === numberKey(series, number),
      *numbers() {
        for (const number of series.numbers()) yield at(number)!;
      },
    };
  }

  #edition(id: string): EditionNumbers {
    const known = this.#editions.get(id);
    if (known) return known;
    const added = { series: new Map(), labels: new Map(), closed: false };
    this.#editions.set(detach(id), added);
    return added;
  }

  #transition(
    before: LifecycleState,
    event: EventFields,
    closed: boolean,
  ): LifecycleState | readonly Problem[] {
    // The state does not decide what a closed edition allows to a number never issued, nor who may be a witness.
    const outsideState = closed && (before.life?.pieces ?? 0) === 0;
    const second = event.witness === undefined ? '' : ' before a witness';
    const name = `${event.type} ${event.part ?? event.parts ?? event.serial ?? ''}${second}`;
    const known = before.transitions.get(name);
    if (known && !outsideState && !this.#witnessIsRecorder(event)) return known;
    try {
      const { series, number, label } = event;
      const life = applyEvent(
        before.life && { ...before.life, series, number, label },
        toNumberEvent(event),
        { editionClosed: closed },
      );
      const next = this.#stateOf(life);
      before.transitions.set(detach(name), next);
      return next;
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      return error.problems;
    }
  }

  /** Numbers of one past share a state: what was retracted leads back, so the present alone does not tell them apart. */
  #stateOf(life: Life): LifecycleState {
    const { state, parts, withheldFrom, missingFrom, pieces, left, certificates, last } = life;
    const past = last && [last.type, this.#stateOf(last.before).index];
    const form = JSON.stringify([state, parts, withheldFrom, missingFrom, pieces, left, certificates, past]);
    const known = this.#byForm.get(form);
    if (known) return known;
    const added = { index: this.#states.length, life, transitions: new Map<string, LifecycleState>() };
    this.#states.push(added);
    this.#byForm.set(form, added);
    return added;
  }

  #witnessIsRecorder({ by, witness }: EventFields): boolean {
    if (witness === undefined) return false;
    const pair = `${by}\n${witness}`;
    let same = this.#samePerson.get(pair);
    if (same === undefined) {
      same = samePerson(by, witness);
      if (this.#samePerson.size < 10_000) this.#samePerson.set(detach(pair), same);
    }
    return same;
  }
}

function labelClash(edition: EditionNumbers, event: EventFields, bearer: number, seq: number): Problem {
  const bearerSeries = [...edition.series.keys()][Math.floor(bearer / NUMBERS_PER_SERIES)]!;
  const bearerNumber = bearer % NUMBERS_PER_SERIES;
  const { label, series, number } = event;
  const values = { label, bearerNumber, bearerSeries, number, series };
  return problem('audit.label-clash', `event ${seq}`, values);
}

/** As much of the event as the rules look at. */
export function toNumberEvent(event: EventFields): NumberEvent {
  const { type, part, parts, witness, corrects, serial, to, edition, series, number, label, by, at } = event;
  const fields = {
    ...{ type, edition, series, number, label, by, at, why: '-' },
    ...(part !== undefined && { part }),
    ...(parts !== undefined && { parts: JSON.parse(`[${parts}]`) as string[] }),
    ...(witness !== undefined && { witness }),
    ...(corrects !== undefined && { corrects }),
    ...(serial !== undefined && { serial }),
    ...(to !== undefined && { to }),
  };
  return fields as NumberEvent;
}

function seriesOf(edition: EditionNumbers, id: string): SeriesNumbers {
  const known = edition.series.get(id);
  if (known) return known;
  const added = new SeriesNumbers(edition.series.size);
  edition.series.set(detach(id), added);
  return added;
}
