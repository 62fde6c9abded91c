import { Refusal } from '../../problem.js';
import type { NumberEvent } from '../event.js';
import { applyEvent, type NumberStatus, type State } from '../lifecycle.js';
import { samePerson } from '../person.js';
import { Seen } from './fingerprint.js';
import { type Glance, own } from './quick.js';
import { SeriesLives } from './series-lives.js';

/** Where a number can stand: shared by all numbers that stand there, with the ways on that were looked up before. */
interface Life {
  readonly id: number;
  readonly standing: NumberStatus | undefined;
  readonly next: Map<string, Life>;
}

interface EditionLives {
  readonly series: Map<string, SeriesLives>;
  /** The number that first bore each label: place of the series times `PLACE`, and number. */
  readonly labels: Seen;
  closed: boolean;
}

/** Numbers end below this. */
const PLACE = 100_000;

export interface Broken {
  readonly kind: 'rule-broken' | 'label-clash';
  readonly what: string;
}

/** A number that the events of an edition name, and where it stands. */
export interface Lived {
  readonly number: number;
  /** The first event that names it. */
  readonly first: number;
  readonly state: State;
  readonly pieces: number;
}

/** The numbers of one series, looked up one at a time: all of them laid out would fill the memory. */
export interface SeriesLived {
  readonly count: number;
  /** Ascending. */
  numbers(): Iterable<Lived>;
  at(number: number): Lived | undefined;
  /** Whether this is the label of the number. */
  bears(number: number, label: string): boolean;
}

/**
 * Folds the events of every number by the register's own rules. Those are asked once for each way a life can go;
 * after that the answer is remembered, so that a million numbers cost a million look-ups and little memory.
 */
export class Lives {
  readonly #lives: Life[] = [{ id: 0, standing: undefined, next: new Map() }];
  readonly #byForm = new Map<string, Life>();
  readonly #editions = new Map<string, EditionLives>();
  readonly #samePerson = new Map<string, boolean>();

  /** Takes an event in; when a rule is broken, says which, and the number stays where it was. */
  take(event: Glance, seq: number): Broken | undefined {
    const edition = this.#edition(event.edition);
    const series = seriesOf(edition, event.series);
    const { number } = event;
    const known = series.has(number);
    if (known && !series.bears(number, event.label)) {
      const what = `Number ${number} of series ${event.series} has another label here (${event.label}) than in event ${series.first(number)}.`;
      return { kind: 'label-clash', what };
    }
    if (!known) {
      const bearer = edition.labels.enter(event.label, series.place * PLACE + number);
      if (bearer !== undefined && bearer !== series.place * PLACE + number) {
        const other = [...edition.series.keys()][Math.floor(bearer / PLACE)];
        const what = `Label ${event.label} belongs to number ${bearer % PLACE} of series ${other}, not to number ${number} of series ${event.series}.`;
        return { kind: 'label-clash', what };
      }
    }
    const before = this.#lives[known ? series.life(number) : 0]!;
    const after = this.#after(before, event, edition.closed);
    if (!('id' in after)) return after;
    if (known) series.turn(number, after.id);
    else series.enter(number, after.id, event.label, seq);
    return undefined;
  }

  /** Takes a closing in; gives what is wrong with it. */
  close(id: string): Broken | undefined {
    const edition = this.#edition(id);
    if (edition.closed) return { kind: 'rule-broken', what: `Edition ${id} was closed before.` };
    edition.closed = true;
    return undefined;
  }

  editions(): string[] {
    return [...this.#editions.keys()];
  }

  /** The series of an edition that the events name. */
  of(edition: string): ReadonlyMap<string, SeriesLived> {
    const series = this.#editions.get(edition)?.series ?? [];
    return new Map([...series].map(([id, lives]) => [id, this.#view(lives)]));
  }

  #view(lives: SeriesLives): SeriesLived {
    const at = (number: number): Lived | undefined => {
      if (!lives.has(number)) return undefined;
      const { state, pieces } = this.#lives[lives.life(number)]!.standing!;
      return { number, first: lives.first(number), state, pieces };
    };
    return {
      count: lives.count,
      at,
      bears: (number, label) => lives.bears(number, label),
      *numbers() {
        for (const number of lives.numbers()) yield at(number)!;
      },
    };
  }

  #edition(id: string): EditionLives {
    const there = this.#editions.get(id);
    if (there) return there;
    const made = { series: new Map(), labels: new Seen(), closed: false };
    this.#editions.set(own(id), made);
    return made;
  }

  #after(before: Life, event: Glance, closed: boolean): Life | Broken {
    // What a closed edition allows to a number never issued, and who may witness, is not told by where it stands.
    const asked = closed && (before.standing?.pieces ?? 0) === 0;
    const way = `${event.type} ${event.part ?? event.parts ?? ''}`;
    const known = before.next.get(way);
    if (known && !asked && !this.#ownWitness(event)) return known;
    try {
      const { series, number, label } = event;
      const standing = applyEvent(
        before.standing && { ...before.standing, series, number, label },
        whole(event),
        closed,
      );
      const life = this.#life(standing);
      before.next.set(own(way), life);
      return life;
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      return { kind: 'rule-broken', what: error.problems.map((p) => `${p.where}: ${p.what}`).join(' ') };
    }
  }

  #life(standing: NumberStatus): Life {
    const { state, parts, withheldFrom, pieces } = standing;
    const form = JSON.stringify([state, parts, withheldFrom, pieces]);
    const there = this.#byForm.get(form);
    if (there) return there;
    const life = { id: this.#lives.length, standing, next: new Map<string, Life>() };
    this.#lives.push(life);
    this.#byForm.set(form, life);
    return life;
  }

  #ownWitness({ by, witness }: Glance): boolean {
    if (witness === undefined) return false;
    const pair = `${by}\n${witness}`;
    let same = this.#samePerson.get(pair);
    if (same === undefined) {
      same = samePerson(by, witness);
      if (this.#samePerson.size < 10_000) this.#samePerson.set(own(pair), same);
    }
    return same;
  }
}

/** As much of the event as the rules look at. */
function whole(event: Glance): NumberEvent {
  const { type, part, parts, witness, edition, series, number, label, by, at } = event;
  const given = {
    ...{ type, edition, series, number, label, by, at, why: '-' },
    ...(part !== undefined && { part }),
    ...(parts !== undefined && { parts: JSON.parse(`[${parts}]`) as string[] }),
    ...(witness !== undefined && { witness }),
  };
  return given as NumberEvent;
}

function seriesOf(edition: EditionLives, id: string): SeriesLives {
  const there = edition.series.get(id);
  if (there) return there;
  const made = new SeriesLives(edition.series.size);
  edition.series.set(own(id), made);
  return made;
}
