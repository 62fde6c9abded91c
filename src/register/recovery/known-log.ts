import { MerkleAccumulator } from '../log/merkle-accumulator.js';
import type { Checkpoint } from '../log/note.js';
import type { RawEvent } from '../register.js';

/** An export, as far as it decides how a log goes on. */
export interface ExportedLog {
  /** The one edition it holds; left out where it holds every one. */
  readonly edition?: string;
  readonly leaves: readonly Buffer[];
}

/** How many events two logs begin with alike. */
const commonLength = (one: readonly Buffer[], other: readonly Buffer[]): number => {
  const length = Math.min(one.length, other.length);
  for (let i = 0; i < length; i++) if (!one[i]!.equals(other[i]!)) return i;
  return length;
};

interface Base<E> {
  /** The export that goes on from the register that is left. */
  readonly base?: E;
  /** Exports that have other events from a place on. */
  readonly forks: readonly { readonly paper: E; readonly from: number }[];
}

/** The longest export that begins with the register that is left; of what other exports have, only numbers are taken. */
export function chooseBase<E extends ExportedLog>(left: readonly Buffer[], exports: readonly E[]): Base<E> {
  const rank = (one: E) => `${one.leaves.at(-1)?.toString('hex')}`;
  const [base] = exports
    .filter(
      (one) =>
        (one.edition === undefined || (left.length === 0 && exports.length === 1)) &&
        one.leaves.length > left.length,
    )
    .filter((one) => commonLength(left, one.leaves) === left.length)
    .sort((a, b) => b.leaves.length - a.leaves.length || (rank(a) < rank(b) ? -1 : 1));
  const forks = exports.flatMap((paper) => {
    const from =
      paper === base || paper.edition !== undefined ? 0 : commonLength(base?.leaves ?? left, paper.leaves);
    return paper === base || from === paper.leaves.length ? [] : [{ paper, from }];
  });
  return { ...(base && { base }), forks };
}

/** Proved events that come next without a gap, up to the largest checkpoint whose root they lead to. */
export function wordForWord(
  leaves: readonly Buffer[],
  proved: readonly RawEvent[],
  marks: readonly Checkpoint[],
): RawEvent[] {
  const bySeq = new Map(proved.map((one) => [one.seq, one]));
  const next: RawEvent[] = [];
  for (let one = bySeq.get(leaves.length); one; one = bySeq.get(one.seq + 1))
    next.push({ seq: one.seq, body: one.body, leaf: one.leaf });
  const all = [...leaves, ...next.map(({ leaf }) => leaf)];
  const unmet = new Set(unmetMarks(all, marks));
  const reached = marks.filter((one) => one.size > leaves.length && !unmet.has(one)).map(({ size }) => size);
  return next.slice(0, Math.max(0, Math.max(0, ...reached) - leaves.length));
}

/** How many of these events checkpoints prove, of which the largest one that they lead to counts. */
export function provedSize(leaves: readonly Buffer[], marks: readonly Checkpoint[]): number {
  const unmet = new Set(unmetMarks(leaves, marks));
  return Math.max(0, ...marks.filter((one) => !unmet.has(one)).map(({ size }) => size));
}

/** Checkpoints that these events do not lead to. */
export function unmetMarks(leaves: readonly Buffer[], marks: readonly Checkpoint[]): Checkpoint[] {
  const met = new Set<Checkpoint>();
  const log = new MerkleAccumulator();
  const check = () => {
    for (const one of marks) if (one.size === log.size && log.root().equals(one.root)) met.add(one);
  };
  check();
  for (const leaf of leaves) {
    log.add(leaf);
    check();
  }
  return marks.filter((one) => !met.has(one));
}
