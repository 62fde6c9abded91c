import { lstatSync } from 'node:fs';
import { FileReader } from './file-reader.js';
import type { Digests } from './output-list.js';

/** What the system says of a file, and says otherwise once its bytes are written again. */
export interface Stamp {
  readonly ino: bigint;
  readonly size: bigint;
  readonly ctimeNs: bigint;
}

/**
 * The coarsest clock of a disk in common use, that of memory sticks, ticks every two seconds, or every 10 ms where it keeps
 * those beside them (from memory).
 */
const COARSE_TICK_NS = 2_000_000_000n;
const COARSE_FRACTION_NS = 10_000_000n;

/** Where stamps are finer than that, they follow the clock of a kernel, which ticks every 16 ms or oftener (from memory). */
const FINE_TICK_NS = 100_000_000n;

/** Taken before the file is read. Undefined where there is no file. */
export function stampOf(file: string): Stamp | undefined {
  const found = lstatSync(file, { bigint: true, throwIfNoEntry: false });
  return found?.isFile() ? { ino: found.ino, size: found.size, ctimeNs: found.ctimeNs } : undefined;
}

/** The paths of the files whose stamp may still be that of their bytes before: written within a tick of the last one. */
export function youngest(stamps: ReadonlyMap<string, Stamp>): string[] {
  let newest = 0n;
  let tick = COARSE_TICK_NS;
  for (const { ctimeNs } of stamps.values()) {
    if (ctimeNs > newest) newest = ctimeNs;
    if (ctimeNs % COARSE_FRACTION_NS !== 0n) tick = FINE_TICK_NS;
  }
  return [...stamps].filter(([, { ctimeNs }]) => newest - ctimeNs <= tick).map(([path]) => path);
}

/**
 * Files as they were when they were read, by their paths below a folder. Whether one is still so is asked of the system, and
 * only where it does not vouch for the file, or never did, is the file read again: its own rename counts as a change, that
 * of its folder does not.
 */
export class FilesAsRead {
  readonly #digests = new Map<string, string>();
  readonly #stamps = new Map<string, Stamp>();
  readonly #reader = new FileReader();

  get digests(): Digests {
    return this.#digests;
  }

  add(path: string, digest: string, stamp?: Stamp): void {
    this.#digests.set(path, digest);
    if (stamp) this.#stamps.set(path, stamp);
  }

  /** A file of which only that is known that the system says of it. */
  addUnread(path: string, stamp: Stamp | undefined): void {
    if (stamp) this.#stamps.set(path, stamp);
  }

  /**
   * Trusts no stamp of the youngest files any more: one that was changed within the tick of its writing has the same. To be
   * asked for where all were written before the first was read.
   */
  doubtYoungest(): void {
    for (const path of youngest(this.#stamps)) this.#stamps.delete(path);
  }

  /** Whether the file of this path, which is now at `place`, has the bytes that were read. */
  isAsRead(path: string, place: string): boolean {
    const now = stampOf(place);
    if (!now) return false;
    const then = this.#stamps.get(path);
    if (then && then.ino === now.ino && then.size === now.size && then.ctimeNs === now.ctimeNs) return true;
    const digest = this.#digests.get(path);
    return digest !== undefined && digest === this.#reader.sha256(place);
  }
}
