import type { Series } from '../../documents/schema/edition.js';
import { type Problem, Refusal } from '../../problem.js';
import { CLOCKS_DIFFER_MS } from '../clock.js';
import { type EventOf, fromLeaf, isOfNumber, type NumberEvent, type TermsEvent } from '../event.js';
import { leafHashText, MerkleAccumulator } from '../log/merkle-accumulator.js';
import { detach, type EventFields, parseEventFast } from '../parse-event-fast.js';
import type { RawEvent, StoredCheckpoint } from '../register.js';
import { type ReadableMembers, readableMembers } from '../resumption/claims.js';
import { ownWitnessProblem, type Resumptions } from '../resumption/resumptions.js';
import type { NamedTerms } from '../terms/schema.js';
import { seriesByTerms } from '../terms/terms.js';
import { CheckpointComparison } from './checkpoint-comparison.js';
import { ClosingsAudit } from './closings-audit.js';
import { CorrectionsAudit } from './corrections-audit.js';
import { compareWithDocument, type Gap } from './document-comparison.js';
import type { Findings } from './finding.js';
import { LifecycleReplay } from './lifecycle-replay.js';
import { problem } from './messages.js';
import { PersonNames } from './person-names.js';
import type { AuditOrder, AuditReport } from './report.js';
import { RequestIndex } from './request-index.js';
import { ResumptionAudit } from './resumption-audit.js';
import { TermsAudit } from './terms-audit.js';

/** The fields of an event of a number, which is all that is asked of most. */
/** They, or the whole of an event that is rare. */
type ReadEventFields = EventFields | TermsEvent | EventOf<'resumed'> | EventOf<'closed'>;

/** Reads members of an event again, by its place in the sequence. */
export type ReadEvent = (seq: number) => Promise<{ readonly label?: unknown; readonly key?: unknown }>;

/** Each comparison reads an event again; where there are more of them, the register is damaged in any case. */
const MOST_COMPARED = 1000;

/** Compared as a text. */
const AFTER_EVERY_TIME = ':';

const NO_LEAF = Buffer.alloc(0);
const NONE_KNOWN: ReadonlySet<string> = new Set();

/** One pass over the events of a register, in sequence. */
export class AuditRun {
  readonly #order: AuditOrder;
  readonly #findings: Findings;
  readonly #resumptions: Resumptions;
  readonly #resumed: ResumptionAudit;
  readonly #checkpoints: CheckpointComparison;
  readonly #lifecycles = new LifecycleReplay();
  readonly #terms = new TermsAudit();
  readonly #closings: ClosingsAudit;
  readonly #corrections = new CorrectionsAudit();
  readonly #names = new PersonNames();
  readonly #log = new MerkleAccumulator();
  /** The log that the texts make, from the first event whose hash does not fit its text. */
  #texts: MerkleAccumulator | undefined;
  readonly #requests = new RequestIndex();
  /** Requests that seem to come again; the keys are compared at the end. */
  readonly #repeated: { readonly seq: number; readonly key: string; readonly before: number }[] = [];
  #request: string | undefined;
  #nth = 0;
  #lastTime = '';
  #nextSeq = 0;
  #replayable = true;
  /** No entry is later, by the clock of who audits. */
  readonly #latest: string;
  #ahead: number | undefined;

  constructor(
    order: AuditOrder,
    findings: Findings,
    checkpoints: readonly StoredCheckpoint[] | undefined,
    closings: readonly RawEvent[],
    resumptions: Resumptions,
  ) {
    this.#closings = new ClosingsAudit(closings, resumptions);
    this.#closings.noteLog(this.#log);
    this.#resumptions = resumptions;
    this.#latest = order.now
      ? new Date(order.now.getTime() + CLOCKS_DIFFER_MS).toISOString()
      : AFTER_EVERY_TIME;
    this.#resumed = new ResumptionAudit(resumptions);
    this.#order = order;
    this.#findings = findings;
    this.#checkpoints = new CheckpointComparison(
      checkpoints ?? [],
      order.outside ?? [],
      order.keys,
      order.witnesses,
      findings,
      resumptions,
    );
    if (this.#checkpoints.nextSize === 0) this.#checkpoints.compare(this.#log, undefined);
  }

  /** How many events were read. */
  get size(): number {
    return this.#log.size;
  }

  add(raw: RawEvent): void {
    const { seq } = raw;
    if (seq !== this.#nextSeq) {
      const values = { first: this.#nextSeq, last: seq - 1, missing: seq - this.#nextSeq };
      this.#findings.fault(problem('audit.gap-in-sequence', `event ${seq}`, values), seq);
    }
    this.#nextSeq = seq + 1;
    if (this.#resumptions.of(seq))
      this.#resumed.meet(seq, raw.leaf, readableMembers(raw.body).at, this.#lastTime);
    this.#addToLog(raw);
    const event = parseEventFast(raw.body) ?? this.#parse(raw);
    if (this.#resumptions.passes(seq)) {
      const readable = readableMembers(raw.body);
      this.#passRequest(event, readable, seq);
      this.#addPassed(event, readable, seq);
      return;
    }
    if (event === undefined) {
      this.#closings.noteUnsound(undefined);
      return;
    }
    if ('fault' in event && this.#resumed.resume(event, seq, this.#lastTime)) this.#lastTime = event.at;
    else if (event.at < this.#lastTime) {
      const values = { at: event.at, before: this.#lastTime };
      this.#findings.fault(problem('audit.time-runs-back', `event ${seq}`, values), seq);
    } else this.#lastTime = event.at;
    if (event.at > this.#latest) this.#noteAhead(event.at, seq);
    this.#checkRequest(seq, event.key, event.nth);
    if (this.#order.edition !== undefined && event.edition !== this.#order.edition) return;
    this.#names.add(event.by, seq);
    this.#names.add('witness' in event ? event.witness : undefined, seq);
    const broken = this.#applyRules(event, seq);
    if (broken.length > 0) this.#closings.noteUnsound(event.edition);
    else if ('label' in event) this.#closings.noteNumber(event.edition, seq);
    if (event.type === 'void' && broken.length === 0)
      this.#closings.noteVoid(event.edition, `${event.series} ${event.number}`, whyIn(raw.body));
    if ('label' in event && event.corrects !== undefined)
      this.#corrections.note(event, broken.length > 0, seq);
    if (broken.length > 0) this.#replayable = false;
    for (const found of broken) this.#findings.fault(found, seq);
  }

  /** The first entry of a row that are ahead of the clock, unless times begin anew after it. */
  #noteAhead(at: string, seq: number): void {
    if (this.#ahead !== undefined || this.#resumptions.isBefore(seq)) return;
    this.#ahead = seq;
    const clock = this.#order.now!.toISOString();
    this.#findings.fault(problem('audit.entry-ahead', `event ${seq}`, { at, clock }), seq);
  }

  #applyRules(event: ReadEventFields, seq: number): readonly Problem[] {
    if ('fault' in event) {
      if (!this.#resumed.counts(seq))
        this.#findings.fault(
          problem('audit.resumed-other', `event ${seq}`, { entry: event.corrects ?? seq }),
          seq,
        );
      const rule = ownWitnessProblem(event);
      return rule ? [problem('audit.rule-broken', `event ${seq}`, { place: rule.where, rule })] : [];
    }
    if ('terms' in event) {
      // States of numbers do not hang on terms.
      this.#terms.add(event, seq, this.#findings);
      return this.#lifecycles.closedProblem(event.edition, seq);
    }
    if (event.type === 'closed') {
      this.#closings.meet(event, seq, this.#lifecycles, this.#terms);
      return this.#lifecycles.close(event.edition, seq);
    }
    return this.#lifecycles.apply(event, seq);
  }

  /** An entry that is passed over changes nothing; it is only asked what is wrong with it. */
  #addPassed(event: ReadEventFields | undefined, { type, edition }: ReadableMembers, seq: number): void {
    const { edition: wanted } = this.#order;
    if (event && wanted !== undefined && event.edition !== wanted) {
      const found = problem('audit.other-edition', `event ${seq}`, { edition: event.edition });
      this.#resumed.excuses(seq, found);
      return;
    }
    // What no later one may say again.
    if (type === 'opened' && edition !== undefined) this.#terms.addUnreadable(edition);
    if (event?.type === 'closed') this.#closings.meet(event, seq, this.#lifecycles, this.#terms);
    const broken =
      type === 'closed' && edition !== undefined
        ? this.#resumptions.reopens(seq)
          ? this.#lifecycles.closedProblem(edition, seq)
          : this.#lifecycles.close(edition, seq)
        : event === undefined
          ? []
          : 'fault' in event
            ? [problem('audit.resumed-needlessly', `event ${seq}`, { entry: event.corrects ?? seq })]
            : 'terms' in event
              ? this.#terms.check(event, seq, this.#lifecycles)
              : [
                  ...this.#lifecycles.check(event as EventFields, seq),
                  ...this.#terms.checkNumber(event as EventFields, seq),
                ];
    for (const found of broken) this.#resumed.excuses(seq, found);
    if (event && 'label' in event && event.corrects !== undefined) this.#corrections.note(event, false, seq);
  }

  /** Whether the events have to be read once more, for what is held against single places in the sequence. */
  get readsAgain(): boolean {
    return this.#corrections.any;
  }

  /** An event once more, in sequence. */
  addAgain({ seq, body }: RawEvent): void {
    const event = parseEventFast(body) ?? this.#parse({ seq, body, leaf: NO_LEAF }, true);
    if (event === undefined || !('label' in event)) return;
    if (this.#resumptions.passes(seq)) {
      for (const found of this.#corrections.check(event, seq)) this.#resumed.excuses(seq, found);
      return;
    }
    const broken = this.#corrections.add(event, seq);
    if (broken.length > 0) this.#replayable = false;
    for (const found of broken) this.#findings.fault(found, seq);
  }

  #addToLog({ seq, body, leaf }: RawEvent): void {
    const leafText = leaf.toString('latin1');
    const made = leafHashText(body);
    if (made !== leafText) {
      const found = problem('audit.text-and-hash-differ', `event ${seq}`, {});
      if (!this.#resumed.excuses(seq, found)) {
        this.#findings.fault(found, seq);
        this.#closings.noteUnsound(undefined);
        this.#replayable = false;
        this.#texts ??= this.#log.copy();
      }
    }
    this.#log.addText(leafText);
    this.#closings.noteLog(this.#log);
    this.#texts?.addText(this.#resumptions.passes(seq) ? leafText : made);
    if (this.#checkpoints.nextSize === this.#log.size) this.#checkpoints.compare(this.#log, this.#texts);
  }

  /** Reads what the fast reader does not, the way every other reader of the register does. */
  #parse({ seq, body }: RawEvent, again = false): ReadEventFields | undefined {
    try {
      const event = fromLeaf(seq, { body, leaf: Buffer.from(leafHashText(body), 'latin1') });
      return isOfNumber(event) ? fieldsOf(event) : event;
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      if (again) return undefined;
      const reason = error.problems[0]!;
      const found = problem('audit.not-an-event', `event ${seq}`, { reason });
      if (this.#resumed.excuses(seq, found)) return undefined;
      this.#findings.fault(found, seq);
      this.#replayable = false;
      return undefined;
    }
  }

  /** The events of one request are together, counted from 1, and no request comes twice. */
  #checkRequest(seq: number, key: string | undefined, nth = 0): void {
    if (key === undefined) {
      this.#request = undefined;
      return;
    }
    const isNew = key !== this.#request;
    if (isNew) this.#request = detach(key);
    const before = isNew ? this.#requests.enter(key, seq) : undefined;
    const expected = isNew ? 1 : this.#nth + 1;
    this.#nth = nth;
    if (before !== undefined) this.#repeated.push({ seq, key: this.#request!, before });
    else if (nth !== expected) {
      const values = { key, nth, expected };
      this.#findings.fault(problem('audit.request-count', `event ${seq}`, values), seq);
    }
  }

  /** An entry that is passed over has its place in its request all the same. */
  #passRequest(event: ReadEventFields | undefined, { key, nth = 0 }: ReadableMembers, seq: number): void {
    const expected = key === this.#request ? this.#nth + 1 : 1;
    if (event && key !== undefined && nth !== expected)
      this.#resumed.excuses(seq, problem('audit.request-count', `event ${seq}`, { key, nth, expected }));
    this.#request = key && detach(key);
    this.#nth = nth;
  }

  /** A request index tells two keys apart by their digests alone: reads the key of the earlier event to be sure. */
  async #reportRepeated(read: ReadEvent): Promise<void> {
    for (const [i, { seq, key, before }] of this.#repeated.entries()) {
      if (i < MOST_COMPARED && (await read(before)).key !== key) continue;
      this.#findings.fault(problem('audit.request-twice', `event ${seq}`, { key, before }), seq);
    }
  }

  /** Of the editions that are looked at. */
  #wantedTerms(): ReadonlyMap<string, NamedTerms> {
    const { edition, terms = new Map<string, NamedTerms>() } = this.#order;
    return new Map([...terms].filter(([id]) => edition === undefined || id === edition));
  }

  /** The series of the document; without one, those of the terms in the register. */
  #seriesToCompare(id: string): readonly Series[] | undefined {
    const { edition, editions } = this.#order;
    const document = editions?.get(id);
    if (document) return document.series;
    if (edition !== undefined && edition !== id) return undefined;
    const recorded = this.#terms.last(id);
    const where = `edition ${id}`;
    if (!recorded) this.#findings.remark(problem('audit.no-document', where, {}));
    else if (editions) this.#findings.remark(problem('audit.terms-used', where, {}));
    return recorded && seriesByTerms(recorded.terms);
  }

  async conclude(read: ReadEvent): Promise<AuditReport> {
    const { editions } = this.#order;
    await this.#reportRepeated(read);
    const readLabel = async (seq: number) => String((await read(seq)).label);
    for (const { seq, grade, found } of this.#closings.conclude(this.#order.statements ?? NONE_KNOWN))
      if (!this.#resumed.excuses(seq, found)) this.#findings[grade](found, seq);
    this.#resumed.conclude(this.#findings);
    const checkpoints = this.#checkpoints.conclude(this.#log.size);
    this.#names.compare(this.#findings);
    const gaps: Gap[] = [];
    let numbers = 0;
    const wantedTerms = this.#wantedTerms();
    for (const id of this.#lifecycles.editions()) {
      for (const { count } of this.#lifecycles.seriesOf(id).values()) numbers += count;
      const series = this.#seriesToCompare(id);
      if (!series) continue;
      const hasTerms = this.#terms.has(id) && (wantedTerms.has(id) || !editions?.has(id));
      gaps.push(
        ...(await compareWithDocument(this.#lifecycles, id, series, hasTerms, readLabel, this.#findings)),
      );
    }
    this.#terms.conclude(this.#lifecycles, wantedTerms, this.#findings);
    const findings = this.#findings.all();
    return {
      ok: !findings.some(({ grade }) => grade === 'fault'),
      replayable: this.#replayable,
      events: this.#log.size,
      numbers,
      root: this.#log.root(),
      checkpoints,
      uncovered: this.#checkpoints.uncovered(this.#log.size),
      gaps,
      findings,
    };
  }
}

/** The reason in the text of an event. */
const whyIn = (body: string): string => String((JSON.parse(body) as { why: unknown }).why);

function fieldsOf(event: NumberEvent): EventFields {
  const { type, at, by, edition, key, nth, series, number, label } = event;
  return {
    ...{ type, at, by, edition, key, nth, series, number, label },
    part: 'part' in event ? event.part : undefined,
    parts:
      event.type === 'issued' && event.parts ? event.parts.map((part) => `"${part}"`).join(',') : undefined,
    witness: 'witness' in event ? event.witness : undefined,
    corrects: 'corrects' in event ? event.corrects : undefined,
    serial: event.type === 'certified' ? event.serial : undefined,
    to: 'to' in event ? event.to : undefined,
  };
}
