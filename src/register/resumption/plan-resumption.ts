import { id } from '../../documents/schema/scalar.js';
import { type Problem, Refusal } from '../../problem.js';
import { CLOCKS_DIFFER_MS } from '../clock.js';
import type { Connection } from '../database.js';
import { type EventOf, fromLeaf, isPassing, type NumberEvent, readEvent } from '../event.js';
import { applyEvent, replayLives } from '../lifecycle.js';
import { MerkleAccumulator } from '../log/merkle-accumulator.js';
import { problem, refuse } from '../messages.js';
import { readsAsSamePerson } from '../person.js';
import type { Queries, Reading } from '../queries.js';
import type { FoundClosing, RawEvent, ResumeRequest } from '../register.js';
import { checkNames } from '../requests.js';
import { agreementOf } from '../statement/agreement.js';
import type { TermsReader } from '../terms/recorded-terms.js';
import { claimedNumbers, readableMembers } from './claims.js';
import { entryFault, type FoundFault, isAhead, isNeeded, type PastOfEntry } from './entry-fault.js';
import {
  checkpointDigest,
  countingResumptions,
  type FoundResumption,
  type Resumptions,
} from './resumptions.js';

/** What is entered to go on past an entry or a checkpoint, but for its time and place. */
export interface ResumptionPlan {
  readonly resumed: Omit<EventOf<'resumed'>, 'at'>;
  /** Why the entry is bad; of a checkpoint its caller knows. */
  readonly reason?: Problem;
  /** Numbers that the entry may be about and that were free. */
  readonly claimed: readonly Omit<Extract<NumberEvent, { type: 'withheld' }>, 'at'>[];
}

/** Works out how a register goes on past what bars its way. */
export class ResumptionPlanner {
  readonly #queries: Queries;
  readonly #terms: TermsReader;
  /** What was needed, as far as this program asked before: an entry and all before it stay as they are. */
  readonly #needed = new Map<string, boolean>();

  constructor(queries: Queries, terms: TermsReader) {
    this.#queries = queries;
    this.#terms = terms;
  }

  /**
   * What the register goes past. A `resumed` event over an entry with which nothing was wrong, by what the register then
   * went past, was entered by another hand than burin's: it changes nothing, and the entry stands.
   */
  async counting(on: Connection): Promise<Resumptions> {
    const needed: FoundResumption[] = [];
    for (const one of await this.#queries.resumed(on)) {
      const past = this.#past({ on, passed: countingResumptions(needed) });
      const name = `${one.seq} ${one.named?.toString('hex')} ${JSON.stringify(one.event)} ${needed.length}`;
      const found = this.#needed.get(name) ?? (await isNeeded(one.seq, one.event, past));
      this.#needed.set(name, found);
      if (found) needed.push(one);
    }
    return countingResumptions(needed);
  }

  /** Throws a Refusal (exit 3) where nothing is wrong, or the register went past it before. */
  async plan(reading: Reading, request: ResumeRequest, now: Date): Promise<ResumptionPlan> {
    const { by, why, witness, checkpoint } = request;
    checkNames('resume', by, witness);
    if (readsAsSamePerson(by, witness))
      throw new Refusal([problem('register.own-witness', 'burin resume', {})]);
    const who = { type: 'resumed', by, witness, why } as const;
    if (checkpoint !== undefined) {
      const where = `kept checkpoint of ${checkpoint.size} events`;
      const digest = checkpointDigest(checkpoint);
      const kept = await this.#queries.checkpoints(reading.on);
      if (!kept.some((one) => checkpointDigest(one) === digest))
        throw refuse('register.no-such-entry', where, {});
      if (reading.passed.ofCheckpoint(checkpoint)) throw refuse('register.resumed-before', where, {});
      const edition = await this.#editionBefore(reading, await this.#queries.size(reading.on), request);
      return { resumed: checked({ ...who, edition, digest, fault: 'checkpoint' }, now), claimed: [] };
    }
    const entry = request.entry!;
    const where = `register event ${entry}`;
    const raw = await this.#queries.entryAt(reading.on, entry);
    if (!raw) throw refuse('register.no-such-entry', where, {});
    if (reading.passed.of(entry)) throw refuse('register.resumed-before', where, {});
    const found = await entryFault(raw, this.#past(reading), now);
    if (!found) {
      const { type = 'other' } = readableMembers(raw.body);
      throw type === 'closed'
        ? refuse('register.closing-sound', where, {})
        : refuse('register.nothing-wrong', where, { type });
    }
    const { fault, reason } = found;
    const own = readableMembers(raw.body).edition;
    const edition = own ?? (await this.#editionBefore(reading, entry, request));
    const digest = raw.leaf.toString('hex');
    const resumed = checked({ ...who, edition, corrects: entry, digest, fault }, now);
    return { resumed, reason, claimed: await this.#claimed(reading, raw, found, request) };
  }

  /** The last time that a clock can be held against: of the last entry that is not ahead of it. */
  async lastBelieved(reading: Reading, last: { seq: number; at: string } | undefined, now: Date) {
    if (!last || !isAhead(last.at, now)) return last;
    const latest = new Date(now.getTime() + CLOCKS_DIFFER_MS).toISOString();
    return this.#queries.lastUpTo(reading.on, latest);
  }

  /** The closing by which an edition is closed, and whether its statement agrees with the events before it. */
  async closing(reading: Reading, edition: string): Promise<FoundClosing | undefined> {
    for (const seq of await this.#queries.closedAt(reading.on, edition)) {
      if (reading.passed.passes(seq)) continue;
      const event = fromLeaf(seq, (await this.#queries.entryAt(reading.on, seq))!);
      if (event.type === 'closed')
        return { seq, event, agreement: await agreementOf(event, seq, this.#past(reading)(seq)) };
    }
    return undefined;
  }

  async #root(on: Connection, size: number): Promise<Buffer> {
    const log = new MerkleAccumulator();
    while (log.size < size) {
      const batch = await this.#queries.batch(on, log.size);
      if (batch.length === 0) break;
      for (const { leaf } of batch) if (log.size < size) log.add(leaf);
    }
    return log.root();
  }

  async #editionBefore(reading: Reading, entry: number, { edition }: ResumeRequest): Promise<string> {
    for (let seq = entry - 1; seq >= 0; seq--) {
      const before = (await this.#queries.entryAt(reading.on, seq))?.edition;
      if (id.safeParse(before).success) return before!;
    }
    if (edition === undefined) throw refuse('register.no-edition', 'burin resume', {});
    return edition;
  }

  #past({ on, passed }: Reading): (seq: number) => PastOfEntry {
    const reading = { on, passed };
    const queries = this.#queries;
    return (before) => ({
      isClosed: async (edition) =>
        (await queries.closedAt(on, edition)).some((seq) => seq < before && !passed.reopens(seq)),
      historyOf: async (edition, label) =>
        (await queries.ofLabel(reading, edition, label)).filter(({ seq }) => seq < before),
      known: (edition, asked) => queries.known(reading, edition, asked, before),
      terms: (edition) => this.#terms.recorded(reading, edition, before),
      names: () => queries.editionNames(reading, before),
      ofEdition: async (edition) =>
        (await queries.ofEdition(reading, edition)).filter(({ seq }) => seq < before),
      entryAt: (seq) => queries.entryAt(on, seq),
      root: (size) => this.#root(on, size),
      passesLater: (edition) => passed.passesLater(edition, before),
    });
  }

  /** Numbers that the entry may be about are withheld, where they were free. */
  async #claimed(
    { on, passed }: Reading,
    raw: RawEvent,
    { fault }: FoundFault,
    { by, terms }: ResumeRequest,
  ): Promise<ResumptionPlan['claimed']> {
    const members = readableMembers(raw.body);
    const { edition } = members;
    if (!isPassing(fault) || edition === undefined) return [];
    // As the past is once the entry is passed over.
    const without = { on, passed: passed.passingToo(raw.seq, raw.leaf) };
    if (await this.#queries.isClosed(without, edition)) return [];
    const known = (await this.#terms.recorded(without, edition)) ?? terms?.(edition);
    if (!known) return [];
    const why = `event ${raw.seq}, which is passed over, may be about it`;
    const claimed: ResumptionPlan['claimed'][number][] = [];
    for (const numbered of claimedNumbers(members, known.terms)) {
      const [life] = replayLives(await this.#queries.ofLabel(without, edition, numbered.label));
      if (life && life.state !== 'planned') continue;
      const other = await this.#queries.known(without, edition, numbered);
      if (other && other.label !== numbered.label) continue;
      const withheld = { type: 'withheld' as const, edition, ...numbered, by, why };
      applyEvent(life, { ...withheld, at: '' });
      claimed.push(withheld);
    }
    return claimed;
  }
}

/** Throws a Refusal (exit 2) for a request that is not well formed. */
function checked(resumed: ResumptionPlan['resumed'], now: Date): ResumptionPlan['resumed'] {
  readEvent({ ...resumed, at: now.toISOString() }, 'burin resume');
  return resumed;
}
