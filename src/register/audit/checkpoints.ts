import { readCheckpoint, readNote, signatureFault, type Verifier } from '../log/note.js';
import type { StoredCheckpoint } from '../register.js';
import type { Findings } from './finding.js';
import type { Growth } from './growth.js';

interface OpenedCheckpoint {
  readonly size: number;
  readonly root: Buffer;
  /** Why it is not signed by the key that was given, where it is not. */
  readonly unsigned?: string;
}

export interface SeenCheckpoint {
  readonly size: number;
  /** Where it was kept: beside the events, or the name of a file from outside. */
  readonly from: string;
  /** Whether the register's first `size` events are those it was signed for. */
  readonly agrees: boolean;
  /** Whether the key that was given signed it; undefined when none was given to ask with. */
  readonly signed?: boolean;
}

interface Waiting {
  readonly size: number;
  readonly root: Buffer;
  readonly from: string;
  readonly frontier?: readonly Buffer[];
  readonly signed?: boolean;
}

function opened(text: string, verifier: Verifier | undefined): OpenedCheckpoint | string {
  const read = readNote(text);
  if (!read.ok) return read.what;
  const found = readCheckpoint(read.note);
  if (!found.ok) return found.what;
  const { size, root, origin } = found.checkpoint;
  if (verifier === undefined) return { size, root };
  const other =
    origin === verifier.name ? undefined : `It is of the log ${origin}, and the key of ${verifier.name}.`;
  return { size, root, unsigned: other ?? signatureFault(read.note, verifier) };
}

/** Holds the growing log against every checkpoint, smallest first. */
export class Checkpoints {
  readonly #findings: Findings;
  readonly #waiting: Waiting[] = [];
  readonly #seen: SeenCheckpoint[] = [];
  #next = 0;

  constructor(
    kept: readonly StoredCheckpoint[],
    outside: readonly { readonly from: string; readonly note: string }[],
    verifier: Verifier | undefined,
    findings: Findings,
  ) {
    this.#findings = findings;
    const own = kept.map(({ size, note, frontier }) => ({
      from: `kept checkpoint of ${size} events`,
      note,
      size,
      frontier,
    }));
    for (const one of [
      ...own,
      ...outside.map(({ from, note }) => ({ from, note, size: undefined, frontier: undefined })),
    ]) {
      const read = opened(one.note, verifier);
      if (typeof read === 'string' || (one.size !== undefined && read.size !== one.size)) {
        const what = typeof read === 'string' ? read : `The note says ${read.size} events.`;
        findings.add({
          kind: 'checkpoint-unreadable',
          grade: 'fault',
          where: one.from,
          what,
          cure: 'Look for another copy of it; never mend one by hand.',
        });
        continue;
      }
      const { size, root, unsigned } = read;
      if (unsigned !== undefined) {
        findings.add({
          kind: 'signature-wrong',
          grade: 'fault',
          where: one.from,
          what: unsigned,
          cure: "If the key is the maker's own, the checkpoint is not the maker's: ask who gave it.",
        });
      }
      const signed = verifier && unsigned === undefined;
      this.#waiting.push({ from: one.from, size, root, frontier: one.frontier, signed });
    }
    this.#waiting.sort((a, b) => a.size - b.size);
  }

  /** Looks at those checkpoints that are for as many events as the log now has. `texts` is the log of the texts, where that differs. */
  at(log: Growth, texts: Growth | undefined): void {
    for (
      let one = this.#waiting[this.#next];
      one && one.size === log.size;
      one = this.#waiting[++this.#next]
    ) {
      const agrees = log.root().equals(one.root);
      this.#seen.push({ size: one.size, from: one.from, agrees, signed: one.signed });
      if (!agrees && texts?.root().equals(one.root)) {
        this.#findings.add({
          kind: 'root-differs',
          grade: 'fault',
          where: one.from,
          what: 'It agrees with the texts of the events, but not with the hashes beside them: hashes were altered.',
          cure: 'The texts are as signed; bring back the hashes from a good copy.',
        });
      }
      if (agrees && one.frontier && !sameAll(one.frontier, log.frontier())) {
        this.#findings.add({
          kind: 'frontier-differs',
          grade: 'fault',
          where: one.from,
          what: 'The subtrees kept with it are not those of the log.',
          cure: 'Sign nothing from it; bring back a good copy.',
        });
      }
    }
  }

  get smallestWaiting(): number {
    return this.#waiting[this.#next]?.size ?? Number.POSITIVE_INFINITY;
  }

  /** What the checkpoints come to once every event was read. */
  conclude(size: number): readonly SeenCheckpoint[] {
    for (const { from, size: signedFor, signed } of this.#waiting.slice(this.#next)) {
      this.#seen.push({ size: signedFor, from, agrees: false, signed });
      const what = `It was signed for ${signedFor} events, and the register has ${size}: the last ${signedFor - size} were deleted, or this is an old copy.`;
      this.#findings.add({
        kind: 'log-shorter',
        grade: 'fault',
        where: from,
        what,
        cure: 'Issue nothing; bring back the register that has them.',
      });
    }
    const good = this.#seen.filter(({ agrees }) => agrees).map((one) => one.size);
    const largest = Math.max(0, ...good);
    let told = false;
    for (const { size: at, from, agrees } of this.#seen) {
      if (agrees || at > size) continue;
      if (at < largest) {
        // A later root covers everything before it: then it is not the events that are other than signed.
        const what = `It is of another history: a later one, of ${largest} events, agrees with the register.`;
        this.#findings.add({
          kind: 'root-differs',
          grade: 'fault',
          where: from,
          what,
          cure: 'The checkpoint was altered, or signed for another log; ask who gave it.',
        });
      } else if (!told) {
        told = true;
        const what = `The first ${at} events are not those it was signed for: among events ${largest} to ${at - 1} something was altered, deleted, reordered, inserted or back-dated since.`;
        this.#findings.add({
          kind: 'root-differs',
          grade: 'fault',
          where: from,
          what,
          cure: 'Issue nothing; compare those events with your last good copy.',
        });
      } else {
        this.#findings.add({
          kind: 'root-differs',
          grade: 'fault',
          where: from,
          what: `It does not agree either, for the first ${at} events.`,
          cure: 'See the checkpoint before it.',
        });
      }
    }
    return this.#seen;
  }
}

const sameAll = (one: readonly Buffer[], other: readonly Buffer[]): boolean =>
  one.length === other.length && one.every((hash, i) => hash.equals(other[i]!));
