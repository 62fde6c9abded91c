import type { Problem } from '../../problem.js';
import type { MerkleAccumulator } from '../log/merkle-accumulator.js';
import { readCheckpoint, readNote, signatureProblem, type Verifier } from '../log/note.js';
import type { StoredCheckpoint } from '../register.js';
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
}

interface Waiting {
  readonly size: number;
  readonly root: Buffer;
  readonly from: string;
  readonly frontier?: readonly Buffer[];
  readonly signed?: boolean;
}

type Opened =
  | { readonly ok: true; readonly size: number; readonly root: Buffer; readonly unsigned?: Problem }
  | { readonly ok: false; readonly problem: Problem };

function open(from: string, text: string, verifier: Verifier | undefined): Opened {
  const unreadable = (reason: Problem): Opened => ({
    ok: false,
    problem: problem('audit.checkpoint-unreadable', from, { reason }),
  });
  const note = readNote(text);
  if (!note.ok) return unreadable(note.problem);
  const read = readCheckpoint(note.note);
  if (!read.ok) return unreadable(read.problem);
  const { size, root, origin } = read.checkpoint;
  if (verifier === undefined) return { ok: true, size, root };
  if (origin !== verifier.name)
    return {
      ...{ ok: true, size, root },
      unsigned: problem('audit.other-log', from, { origin, key: verifier.name }),
    };
  const wrong = signatureProblem(note.note, verifier);
  if (!wrong) return { ok: true, size, root };
  return {
    ...{ ok: true, size, root },
    unsigned: problem('audit.signature-wrong', from, { reason: wrong }),
  };
}

/** Compares the growing log with every checkpoint, smallest first. */
export class CheckpointComparison {
  readonly #findings: Findings;
  readonly #waiting: Waiting[] = [];
  readonly #compared: ComparedCheckpoint[] = [];
  #next = 0;

  constructor(
    stored: readonly StoredCheckpoint[],
    outside: readonly OutsideCheckpoint[],
    verifier: Verifier | undefined,
    findings: Findings,
  ) {
    this.#findings = findings;
    for (const { size, note, frontier } of stored)
      this.#wait(`kept checkpoint of ${size} events`, note, verifier, size, frontier);
    for (const { from, note } of outside) this.#wait(from, note, verifier);
    this.#waiting.sort((a, b) => a.size - b.size);
  }

  #wait(
    from: string,
    note: string,
    verifier: Verifier | undefined,
    keptSize?: number,
    frontier?: readonly Buffer[],
  ): void {
    const opened = open(from, note, verifier);
    if (!opened.ok) {
      this.#findings.fault(opened.problem);
      return;
    }
    const { size, root, unsigned } = opened;
    if (keptSize !== undefined && size !== keptSize) {
      this.#findings.fault(problem('audit.checkpoint-size', from, { size }));
      return;
    }
    if (unsigned) this.#findings.fault(unsigned);
    const signed = verifier && unsigned === undefined;
    this.#waiting.push({ from, size, root, frontier, signed });
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
      this.#compared.push({ size: one.size, from: one.from, agrees, signed: one.signed });
      if (!agrees && texts?.root().equals(one.root))
        this.#findings.fault(problem('audit.hashes-altered', one.from, {}));
      if (agrees && one.frontier && !equalHashes(one.frontier, log.roots()))
        this.#findings.fault(problem('audit.frontier-differs', one.from, {}));
    }
  }

  /** The result, once every event was read. */
  conclude(size: number): readonly ComparedCheckpoint[] {
    for (const { from, size: signed, signed: isSigned } of this.#waiting.slice(this.#next)) {
      this.#compared.push({ size: signed, from, agrees: false, signed: isSigned });
      this.#findings.fault(problem('audit.log-shorter', from, { signed, size, missing: signed - size }));
    }
    const largest = Math.max(0, ...this.#compared.filter(({ agrees }) => agrees).map((one) => one.size));
    let isFirst = true;
    for (const { size: at, from, agrees } of this.#compared) {
      if (agrees || at > size) continue;
      // A later root covers every event before it: if that agrees, the events are not what is wrong.
      if (at < largest) this.#findings.fault(problem('audit.other-history', from, { largest }));
      else if (isFirst) {
        isFirst = false;
        this.#findings.fault(problem('audit.root-differs', from, { size: at, from: largest, to: at - 1 }));
      } else this.#findings.fault(problem('audit.root-differs-too', from, { size: at }));
    }
    return this.#compared;
  }
}

const equalHashes = (one: readonly Buffer[], other: readonly Buffer[]): boolean =>
  one.length === other.length && one.every((hash, i) => hash.equals(other[i]!));
