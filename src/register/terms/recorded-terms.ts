import type { TermsEvent } from '../event.js';
import type { Queries, Reading } from '../queries.js';
import type { RecordedTerms } from '../register.js';
import { differencesOf, type TermsDifference } from './difference.js';
import { checkExisting, checkName, holdTerms } from './hold.js';
import { refuse } from './messages.js';
import type { NamedTerms } from './schema.js';

/** The terms of editions as a register has them; everything within a transaction of its caller. */
export class TermsReader {
  readonly #queries: Queries;

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
