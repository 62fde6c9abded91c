import type { Connection } from '../database.js';
import type { TermsEvent } from '../event.js';
import type { Queries, Reading } from '../queries.js';
import type { RecordedTerms } from '../register.js';
import { differencesOf, type TermsDifference } from './difference.js';
import { checkExisting, checkName, firstOfName, holdTerms } from './hold.js';
import { refuse } from './messages.js';
import type { NamedTerms } from './schema.js';

/** The terms of editions as a register has them; everything within a transaction of its caller. */
export class TermsReader {
  readonly #queries: Queries;
  /**
   * Editions whose names were found to be their own: what came before a name stays as it is, so that this is asked once over
   * a connection. With each edition, by what it was found.
   */
  readonly #ownNames = new WeakMap<Connection, Map<string, string>>();

  constructor(queries: Queries) {
    this.#queries = queries;
  }

  /** Undefined where the register has none; `before` leaves out what came from that place in the sequence on. */
  async recorded(
    reading: Reading,
    edition: string,
    before = Number.POSITIVE_INFINITY,
  ): Promise<RecordedTerms | undefined> {
    const events = (await this.#queries.termsEvents(reading, edition))
      .filter(({ seq }) => seq < before)
      .map((one) => ({ ...one, event: one.event as TermsEvent }));
    const last = events.at(-1)?.event;
    return last && { name: last.name, terms: last.terms, events };
  }

  /**
   * Holds today's terms against what the register has of an edition. Gives whether they are still to be entered, which
   * those of an edition closed before there were terms never are; anew where those there are were passed over. Throws a Refusal (exit 3) where they differ, or do not
   * fit the numbers that exist.
   */
  async check(
    reading: Reading,
    edition: string,
    terms: NamedTerms,
  ): Promise<'recorded' | 'closed' | 'to enter' | 'to enter anew'> {
    const recorded = await this.recorded(reading, edition);
    if (recorded) {
      holdTerms(edition, recorded, terms);
      await this.#checkOwnName(reading, edition, recorded);
      return 'recorded';
    }
    if (await this.#queries.isClosed(reading, edition)) return 'closed';
    await this.#checkFit(reading, edition, terms);
    return (await this.#queries.isOpened(reading.on, edition)) ? 'to enter anew' : 'to enter';
  }

  /** What terms would change. Throws a Refusal where they must not. */
  async differences(reading: Reading, edition: string, to: NamedTerms): Promise<readonly TermsDifference[]> {
    const where = `edition ${edition}`;
    const recorded = await this.recorded(reading, edition);
    if (!recorded) throw refuse('terms.not-opened', where, {});
    if (await this.#queries.isClosed(reading, edition)) throw refuse('terms.closed', where, {});
    const differences = differencesOf(recorded, to);
    if (differences.length === 0) throw refuse('terms.nothing-to-amend', where, {});
    await this.#checkFit(reading, edition, to);
    return differences;
  }

  /** Whether it is yet to be asked over a connection if the name of an edition is its own. */
  asksNames(on: Connection, edition: string): boolean {
    return !this.#ownNames.get(on)?.has(edition);
  }

  /** Throws a Refusal (exit 3) where another edition had the name before. */
  async #checkOwnName(reading: Reading, edition: string, { name, events }: RecordedTerms): Promise<void> {
    const { on, passed } = reading;
    const own = events.map(({ seq, event }) => ({ edition, seq, name: event.name }));
    const since = firstOfName(name, own)!.seq;
    const found = `${since} ${passed.all.length}`;
    const known = this.#ownNames.get(on) ?? new Map<string, string>();
    if (known.get(edition) === found) return;
    checkName(edition, name, await this.#queries.editionNames(reading));
    this.#ownNames.set(on, known.set(edition, found));
  }

  /** Whether terms can become those of an edition, with all that exists of it and beside it. */
  async #checkFit(reading: Reading, edition: string, { name, terms }: NamedTerms): Promise<void> {
    checkName(edition, name, await this.#queries.editionNames(reading));
    const existing = await this.#queries.ofEdition(reading, edition);
    checkExisting(
      edition,
      terms,
      existing.map(({ event }) => event),
    );
  }
}
