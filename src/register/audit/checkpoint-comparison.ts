import type { Problem } from '../../problem.js';
import { cosignedAt, type Witness } from '../log/cosignature.js';
import { type KeyHistory, signingKey } from '../log/key-history.js';
import type { MerkleAccumulator } from '../log/merkle-accumulator.js';
import { readCheckpoint, readNote } from '../log/note.js';
import type { StoredCheckpoint } from '../register.js';
import type { Resumption, Resumptions } from '../resumption/resumptions.js';
import type { Findings } from './finding.js';
import { problem } from './messages.js';

/** A checkpoint from elsewhere: from a certificate, or from another person's copy. */
export interface OutsideCheckpoint {
  /** The name of its file. */
  readonly from: string;
  readonly note: string;
}

export interface ComparedCheckpoint {
  readonly size: number;
  /** Where it was kept: beside the events, or the name of a file from outside. */
  readonly from: string;
  /** Whether the register's first `size` events are those it was signed for. */
  readonly agrees: boolean;
  /** Whether the given key signed it; undefined when no key was given. */
  readonly signed?: boolean;
  /** Of one from outside, where witnesses were given: which of them saw it, and when, in seconds since 1970. */
  readonly seen?: readonly SeenBy[];
}

export interface SeenBy {
  readonly name: string;
  readonly seconds: number;
}

interface Waiting {
  readonly size: number;
  readonly root: Buffer;
  readonly from: string;
  readonly frontier?: readonly Buffer[];
  readonly signed?: boolean;
  readonly retired?: Problem;
  readonly outside: boolean;
  /** The place of the event that passes it over. */
  readonly aside?: number;
  readonly seen?: readonly SeenBy[];
}

type Opened =
  | {
      readonly ok: true;
      readonly size: number;
      readonly root: Buffer;
      readonly unsigned?: Problem;
      /** Signed by a key that had ended by then. */
      readonly retired?: Problem;
    }
  | { readonly ok: false; readonly problem: Problem };

function open(from: string, text: string, keys: KeyHistory | undefined): Opened {
  const unreadable = (reason: Problem): Opened => ({
    ok: false,
    problem: problem('audit.checkpoint-unreadable', from, { reason }),
  });
  const note = readNote(text);
  if (!note.ok) return unreadable(note.problem);
  const read = readCheckpoint(note.note);
  if (!read.ok) return unreadable(read.problem);
  const { size, root, origin } = read.checkpoint;
  if (keys === undefined) return { ok: true, size, root };
  if (origin !== keys.origin)
    return {
      ...{ ok: true, size, root },
      unsigned: problem('audit.other-log', from, { origin, key: keys.origin }),
    };
  const by = signingKey(note.note, size, keys);
  if (by.ok) return { ok: true, size, root };
  const reason = by.problem;
  if (reason.code === 'log.key-ended')
    return { ...{ ok: true, size, root }, retired: problem('audit.key-retired', from, { reason }) };
  return { ...{ ok: true, size, root }, unsigned: problem('audit.signature-wrong', from, { reason }) };
}

/** Compares the growing log with every checkpoint, smallest first. */
export class CheckpointComparison {
  readonly #findings: Findings;
  readonly #witnesses: readonly Witness[] | undefined;
  readonly #waiting: Waiting[] = [];
  readonly #compared: ComparedCheckpoint[] = [];
  #next = 0;
  #covered = 0;

  constructor(
    stored: readonly StoredCheckpoint[],
    outside: readonly OutsideCheckpoint[],
    keys: KeyHistory | undefined,
    witnesses: readonly Witness[] | undefined,
    findings: Findings,
    resumptions: Resumptions,
  ) {
    this.#findings = findings;
    this.#witnesses = witnesses;
    for (const kept of stored) {
      const from = `kept checkpoint of ${kept.size} events`;
      const aside = resumptions.ofCheckpoint(kept);
      if (aside) this.#passOver(aside, from, kept, keys);
      else this.#wait(from, kept.note, keys, kept.size, kept.frontier);
    }
    for (const { from, note } of outside) this.#wait(from, note, keys);
    this.#waiting.sort((a, b) => a.size - b.size);
  }

  /** It is only looked at for whether it was passed over with reason. */
  #passOver(
    { seq, event }: Resumption,
    from: string,
    { size, note, frontier }: StoredCheckpoint,
    keys: KeyHistory | undefined,
  ): void {
    const { by, witness, why } = event;
    this.#findings.remark(problem('audit.checkpoint-passed-over', from, { seq, by, witness, why }));
    const opened = open(from, note, keys);
    if (!opened.ok || opened.size !== size) return;
    const signed = keys && opened.unsigned === undefined && opened.retired === undefined;
    this.#waiting.push({ from, size, root: opened.root, frontier, signed, outside: false, aside: seq });
  }

  /** One that is passed over: a fault where it is sound, or where a key of the maker signed another log than there is. */
  #judgePassedOver(
    { from, frontier, signed, aside }: Waiting,
    agrees: boolean,
    roots: readonly Buffer[],
  ): void {
    const sound = agrees && frontier !== undefined && equalHashes(frontier, roots);
    if (!sound && (agrees || !signed)) return;
    const values = { seq: aside!, signed: signed && !agrees ? 'yes' : 'no' };
    this.#findings.fault(problem('audit.checkpoint-resumed-needlessly', from, values));
  }

  #wait(
    from: string,
    note: string,
    keys: KeyHistory | undefined,
    keptSize?: number,
    frontier?: readonly Buffer[],
  ): void {
    const opened = open(from, note, keys);
    if (!opened.ok) {
      this.#findings.fault(opened.problem);
      return;
    }
    const { size, root, unsigned, retired } = opened;
    if (keptSize !== undefined && size !== keptSize) {
      this.#findings.fault(problem('audit.checkpoint-size', from, { size }));
      return;
    }
    if (unsigned) this.#findings.fault(unsigned);
    const signed = keys && unsigned === undefined && retired === undefined;
    const outside = keptSize === undefined;
    const seen = outside && this.#witnesses ? this.#seenBy(note, this.#witnesses, from) : undefined;
    this.#waiting.push({ from, size, root, frontier, signed, retired, outside, seen });
  }

  /** The size of the log at which `compare` is wanted next. */
  get nextSize(): number {
    return this.#waiting[this.#next]?.size ?? Number.POSITIVE_INFINITY;
  }

  /**
   * Compares the checkpoints that are for as many events as the log has now. `texts` is the log that the texts of the
   * events make, where it differs from that of the kept hashes.
   */
  compare(log: MerkleAccumulator, texts: MerkleAccumulator | undefined): void {
    for (
      let one = this.#waiting[this.#next];
      one && one.size === log.size;
      one = this.#waiting[++this.#next]
    ) {
      const agrees = log.root().equals(one.root);
      const { size, from, signed, seen } = one;
      if (one.aside !== undefined) {
        this.#judgePassedOver(one, agrees, log.roots());
        continue;
      }
      this.#compared.push({ size, from, agrees, signed, seen });
      if (agrees && this.#covers(one)) this.#covered = size;
      if (!agrees && texts?.root().equals(one.root))
        this.#findings.fault(problem('audit.hashes-altered', one.from, {}));
      if (agrees && one.frontier && !equalHashes(one.frontier, log.roots()))
        this.#findings.fault(problem('audit.frontier-differs', one.from, {}));
    }
  }

  /** The result, once every event was read. */
  conclude(size: number): readonly ComparedCheckpoint[] {
    for (const one of this.#waiting.slice(this.#next)) {
      const { from, size: signed, signed: isSigned, retired, seen } = one;
      if (one.aside !== undefined) {
        this.#judgePassedOver(one, false, []);
        continue;
      }
      this.#compared.push({ size: signed, from, agrees: false, signed: isSigned, seen });
      if (!retired)
        this.#findings.fault(problem('audit.log-shorter', from, { signed, size, missing: signed - size }));
    }
    const largest = Math.max(0, ...this.#compared.filter(({ agrees }) => agrees).map((one) => one.size));
    let isFirst = true;
    const retired = this.#reportRetired();
    for (const { size: at, from, agrees, signed } of this.#compared) {
      if (agrees || at > size || retired.has(from)) continue;
      // A later root covers every event before it: if that agrees, the events are not what is wrong.
      if (at < largest)
        this.#findings.fault(
          problem(signed ? 'audit.two-histories' : 'audit.other-history', from, { largest }),
        );
      else if (isFirst) {
        isFirst = false;
        this.#findings.fault(problem('audit.root-differs', from, { size: at, from: largest, to: at - 1 }));
      } else this.#findings.fault(problem('audit.root-differs-too', from, { size: at }));
    }
    return this.#compared;
  }

  /** How many events, of so many, come after the last checkpoint from outside that agrees. */
  uncovered(size: number): number {
    return size - this.#covered;
  }

  /** What a witness saw covers events whoever signed it; without witnesses, what the maker's key in use signed. */
  #covers({ outside, seen, signed }: Waiting): boolean {
    return outside && (seen ? seen.length > 0 : signed !== false);
  }

  #seenBy(text: string, witnesses: readonly Witness[], from: string): SeenBy[] {
    const read = readNote(text);
    if (!read.ok) return [];
    return witnesses.flatMap((witness): SeenBy[] => {
      const at = cosignedAt(read.note, witness);
      if (at.ok) return [{ name: witness.name, seconds: at.seconds }];
      if (at.problem.code !== 'witness.not-cosigned')
        this.#findings.fault(problem('audit.cosignature-wrong', from, { reason: at.problem }));
      return [];
    });
  }

  /**
   * A signature of a retired key does not count; gives where such stand. What agrees with the register and lies below a
   * checkpoint that counts is vouched for by that one, and only the note itself is in doubt.
   */
  #reportRetired(): ReadonlySet<string> {
    const counting = this.#compared.filter(({ agrees, signed }) => agrees && signed);
    const largest = Math.max(0, ...counting.map(({ size }) => size));
    const agreeing = new Set(this.#compared.filter(({ agrees }) => agrees).map(({ from }) => from));
    const found = this.#waiting.filter(({ retired }) => retired);
    for (const { size, from, retired } of found) {
      if (size <= largest && agreeing.has(from)) this.#findings.remark(retired!);
      else this.#findings.fault(retired!);
    }
    return new Set(found.map(({ from }) => from));
  }
}

const equalHashes = (one: readonly Buffer[], other: readonly Buffer[]): boolean =>
  one.length === other.length && one.every((hash, i) => hash.equals(other[i]!));
