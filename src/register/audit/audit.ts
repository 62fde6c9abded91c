import { setImmediate } from 'node:timers/promises';
import type { Edition } from '../../documents/schema/edition.js';
import { Refusal } from '../../problem.js';
import { fromLeaf, type RegisterEvent } from '../event.js';
import type { Verifier } from '../log/note.js';
import type { RawEvent, Register, StoredCheckpoint } from '../register.js';
import { Checkpoints, type SeenCheckpoint } from './checkpoints.js';
import { type Finding, Findings } from './finding.js';
import { Seen } from './fingerprint.js';
import { Growth, leafText } from './growth.js';
import { Lives } from './lives.js';
import { Persons } from './persons.js';
import { comparePlan, type Gap, type LabelIn } from './plans.js';
import { type Glance, glance, own } from './quick.js';

export interface AuditOrder {
  /** Only the rules and gaps of this edition; the log is always looked at as a whole. */
  readonly edition?: string;
  /** The documents, by id. */
  readonly editions: ReadonlyMap<string, Edition>;
  /** Checkpoints from elsewhere: a certificate, another's copy. They show what those kept here cannot. */
  readonly outside?: readonly { readonly from: string; readonly note: string }[];
  /** The maker's key; without it no signature is looked at. */
  readonly verifier?: Verifier;
  /** Has the store looked at, not only what it holds, when there are at most so many events: it takes far longer. */
  readonly storeUpTo?: number;
  readonly progress?: (done: number, of: number) => void;
  readonly signal?: AbortSignal;
}

export interface AuditReport {
  /** Whether no fault was found; remarks do not count. */
  readonly ok: boolean;
  readonly events: number;
  readonly numbers: number;
  /** Root of the log, as the register stands. */
  readonly root: Buffer;
  readonly checkpoints: readonly SeenCheckpoint[];
  readonly gaps: readonly Gap[];
  readonly findings: readonly Finding[];
}

const CURE = 'Issue nothing; compare the register with your last good copy.';
/** Events between two looks at whether the audit is still wanted. */
const STRIDE = 5000;

/** Looks at every event of a register, from the first. Throws only when it is called off. */
export async function audit(
  register: Pick<Register, 'size' | 'events' | 'checkpoints'> & Partial<Pick<Register, 'faults'>>,
  order: AuditOrder,
): Promise<AuditReport> {
  const findings = new Findings();
  const replay = new Replay(order, findings, await orNothing(() => register.checkpoints(), findings));
  const of = (await orNothing(() => register.size(), findings)) ?? 0;
  try {
    for await (const event of register.events()) {
      replay.take(event);
      if (replay.size % STRIDE === 0) {
        order.progress?.(replay.size, of);
        await setImmediate();
        order.signal?.throwIfAborted();
      }
    }
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    unreadable(error, findings, `The register cannot be read beyond event ${replay.size - 1}.`);
  }
  order.progress?.(replay.size, of);
  if (order.storeUpTo !== undefined) await lookAtStore(register, of, order.storeUpTo, findings);
  return replay.conclude(async (seq) => {
    for await (const { body } of register.events(seq))
      return String((JSON.parse(body) as { label?: unknown }).label);
    return '';
  });
}

async function lookAtStore(
  register: Partial<Pick<Register, 'faults'>>,
  events: number,
  upTo: number,
  findings: Findings,
): Promise<void> {
  const where = 'register';
  if (events > upTo) {
    const what = `Of ${events} events its indexes and triggers were not looked at: that takes long.`;
    findings.add({ kind: 'store-not-looked-at', grade: 'remark', where, what, cure: 'Ask with --store.' });
    return;
  }
  for (const { what } of (await orNothing(async () => register.faults?.(), findings)) ?? [])
    findings.add({ kind: 'store-damaged', grade: 'fault', where, what, cure: CURE });
}

async function orNothing<T>(work: () => Promise<T>, findings: Findings): Promise<T | undefined> {
  try {
    return await work();
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    unreadable(error, findings, '');
    return undefined;
  }
}

function unreadable(error: Refusal, findings: Findings, before: string): void {
  for (const { where, what, cure } of error.problems) {
    findings.add({ kind: 'unreadable', grade: 'fault', where, what: `${before} ${what}`.trim(), cure });
  }
}

class Replay {
  readonly #order: AuditOrder;
  readonly #findings: Findings;
  readonly #checkpoints: Checkpoints;
  readonly #lives = new Lives();
  readonly #persons = new Persons();
  readonly #log = new Growth();
  /** The log as the texts would make it, from the first event whose hash does not fit. */
  #texts: Growth | undefined;
  readonly #keys = new Seen();
  #key: string | undefined;
  #nth = 0;
  #at = '';
  #next = 0;

  constructor(order: AuditOrder, findings: Findings, kept: readonly StoredCheckpoint[] | undefined) {
    this.#order = order;
    this.#findings = findings;
    this.#checkpoints = new Checkpoints(kept ?? [], order.outside ?? [], order.verifier, findings);
    if (this.#checkpoints.smallestWaiting === 0) this.#checkpoints.at(this.#log, undefined);
  }

  get size(): number {
    return this.#log.size;
  }

  take(raw: RawEvent): void {
    const { seq } = raw;
    if (seq !== this.#next) {
      const missing = seq - this.#next;
      const what =
        missing === 1
          ? `Event ${this.#next} is missing before it.`
          : `Events ${this.#next} to ${seq - 1} are missing before it.`;
      this.#findings.event(seq, 'gap-in-sequence', what, CURE);
    }
    this.#next = seq + 1;
    this.#grow(raw);
    const event = glance(raw.body) ?? this.#readStrictly(raw);
    if (event === undefined) return;
    if (event.at < this.#at) {
      this.#findings.event(
        seq,
        'time-runs-back',
        `It was entered ${event.at}, before the event that stands before it (${this.#at}).`,
        CURE,
      );
    } else this.#at = event.at;
    this.#asked(seq, event.key, event.nth);
    if (this.#order.edition !== undefined && event.edition !== this.#order.edition) return;
    this.#persons.take(event.by, seq);
    this.#persons.take(event.witness, seq);
    const broken =
      event.type === 'closed' ? this.#lives.close(event.edition) : this.#lives.take(event as Glance, seq);
    if (broken) this.#findings.event(seq, broken.kind, broken.what, CURE);
  }

  #grow({ seq, body, leaf }: RawEvent): void {
    const kept = leaf.toString('latin1');
    const made = leafText(body);
    if (made !== kept) {
      this.#findings.event(
        seq,
        'text-and-hash-differ',
        'Its text is not the one its hash was made of: one of them was altered.',
        CURE,
      );
      this.#texts ??= this.#log.copy();
    }
    this.#log.add(kept);
    this.#texts?.add(made);
    if (this.#checkpoints.smallestWaiting === this.#log.size) this.#checkpoints.at(this.#log, this.#texts);
  }

  /** What cannot be read at a glance is read the way every other reader of the register does. */
  #readStrictly({
    seq,
    body,
  }: RawEvent): (Omit<Glance, 'type'> & { readonly type: RegisterEvent['type'] }) | undefined {
    try {
      return asGlance(fromLeaf(seq, { body, leaf: Buffer.from(leafText(body), 'latin1') }));
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      this.#findings.event(seq, 'not-an-event', error.problems[0]!.what, CURE);
      return undefined;
    }
  }

  /** The events of one request stand together, counted from 1, and no request twice. */
  #asked(seq: number, key: string | undefined, nth: number | undefined): void {
    if (key === undefined) {
      this.#key = undefined;
      return;
    }
    if (key === this.#key) {
      if (nth !== this.#nth + 1)
        this.#findings.event(
          seq,
          'request-twice',
          `It is counted ${nth} of request "${key}" after ${this.#nth}.`,
          CURE,
        );
    } else {
      const before = this.#keys.enter(key, seq);
      if (before !== undefined)
        this.#findings.event(
          seq,
          'request-twice',
          `The request "${key}" was carried out before, in event ${before}.`,
          CURE,
        );
      else if (nth !== 1)
        this.#findings.event(
          seq,
          'request-twice',
          `It is counted ${nth} of request "${key}" and is the first.`,
          CURE,
        );
      this.#key = own(key);
    }
    this.#nth = nth!;
  }

  async conclude(labelIn: LabelIn): Promise<AuditReport> {
    const { edition, editions } = this.#order;
    const checkpoints = this.#checkpoints.conclude(this.#log.size);
    this.#persons.look(this.#findings);
    const gaps: Gap[] = [];
    let numbers = 0;
    for (const id of this.#lives.editions()) {
      for (const { count } of this.#lives.of(id).values()) numbers += count;
      const document = editions.get(id);
      if (document) gaps.push(...(await comparePlan(this.#lives, id, document, labelIn, this.#findings)));
      else if (edition === undefined || edition === id) {
        const what = 'The workshop has no document of it: its gaps and labels cannot be looked at.';
        this.#findings.add({
          kind: 'no-document',
          grade: 'remark',
          where: `edition ${id}`,
          what,
          cure: 'Bring its document back.',
        });
      }
    }
    const findings = this.#findings.all();
    return {
      ok: !findings.some(({ grade }) => grade === 'fault'),
      events: this.#log.size,
      numbers,
      root: this.#log.root(),
      checkpoints,
      gaps,
      findings,
    };
  }
}

/** The members that the rules look at. */
function asGlance(event: RegisterEvent): Omit<Glance, 'type'> & { readonly type: RegisterEvent['type'] } {
  const { type, at, by, edition, key, nth } = event;
  if (event.type === 'closed') return { type, at, by, edition, key, nth, series: '', number: 0, label: '' };
  const { series, number, label } = event;
  return {
    ...{ type, at, by, edition, key, nth, series, number, label },
    part: 'part' in event ? event.part : undefined,
    parts:
      event.type === 'issued' && event.parts ? event.parts.map((part) => `"${part}"`).join(',') : undefined,
    witness: event.type === 'destroyed' ? event.witness : undefined,
  };
}
