import type { Connection } from '../database.js';
import type { TermsEvent } from '../event.js';
import type { Queries } from '../queries.js';
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
    on: Connection,
    edition: string,
    before = Number.POSITIVE_INFINITY,
  ): Promise<RecordedTerms | undefined> {
    const events = (await this.#queries.termsEvents(on, edition))
      .filter(({ seq }) => seq < before)
      .map((one) => ({ ...one, event: one.event as TermsEvent }));
    const last = events.at(-1)?.event;
    return last && { name: last.name, terms: last.terms, events };
  }

  /**
   * Holds today's terms against what the register has of an edition. Gives whether they are still to be entered, which
   * those of an edition closed before there were terms never are. Throws a Refusal (exit 3) where they differ, or do not
   * fit the numbers that exist.
   */
  async check(
    on: Connection,
    edition: string,
    terms: NamedTerms,
  ): Promise<'recorded' | 'closed' | 'to enter'> {
    const recorded = await this.recorded(on, edition);
    if (recorded) {
      holdTerms(edition, recorded, terms);
      return 'recorded';
    }
    if (await this.#queries.isClosed(on, edition)) return 'closed';
    await this.#checkFit(on, edition, terms);
    return 'to enter';
  }

  /** What terms would change. Throws a Refusal where they must not. */
  async differences(on: Connection, edition: string, to: NamedTerms): Promise<readonly TermsDifference[]> {
    const where = `edition ${edition}`;
    const recorded = await this.recorded(on, edition);
    if (!recorded) throw refuse('terms.not-opened', where, {});
    if (await this.#queries.isClosed(on, edition)) throw refuse('terms.closed', where, {});
    const differences = differencesOf(recorded, to);
    if (differences.length === 0) throw refuse('terms.nothing-to-amend', where, {});
    await this.#checkFit(on, edition, to);
    return differences;
  }

  /** Whether terms can become those of an edition, with all that exists of it and beside it. */
  async #checkFit(on: Connection, edition: string, { name, terms }: NamedTerms): Promise<void> {
    checkName(edition, name, await this.#queries.editionNames(on));
    const existing = await this.#queries.ofEdition(on, edition);
    checkExisting(
      edition,
      terms,
      existing.map(({ event }) => event),
    );
  }
}
