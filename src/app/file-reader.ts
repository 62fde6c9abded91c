import { createHash } from 'node:crypto';
import { closeSync, constants, fstatSync, openSync, readSync } from 'node:fs';

/** Reads files one after another into one buffer: what it gives holds only until the next. */
export class FileReader {
  #buffer = Buffer.alloc(1 << 18);

  read(file: string): Uint8Array<ArrayBuffer> {
    return withFile(file, (handle) => {
      const { size } = fstatSync(handle);
      // One more than its size, so that the read after the last byte ends the file.
      if (size >= this.#buffer.length) this.#buffer = Buffer.alloc(size + 1);
      let length = 0;
      for (let got = -1; got !== 0 && length < this.#buffer.length; length += got)
        got = readSync(handle, this.#buffer, length, this.#buffer.length - length, null);
      return this.#buffer.subarray(0, length);
    });
  }

  /** The SHA-256 of a file, hex, which is never held whole. */
  sha256(file: string): string {
    return withFile(file, (handle) => {
      const hash = createHash('sha256');
      for (let got = -1; got !== 0; ) {
        got = readSync(handle, this.#buffer, 0, this.#buffer.length, null);
        hash.update(this.#buffer.subarray(0, got));
      }
      return hash.digest('hex');
    });
  }
}

function withFile<T>(file: string, work: (handle: number) => T): T {
  // A link put in a file's place is not followed, and a pipe not waited for.
  const flags = constants.O_RDONLY | (constants.O_NOFOLLOW ?? 0) | (constants.O_NONBLOCK ?? 0);
  const handle = openSync(file, flags);
  try {
    return work(handle);
  } finally {
    closeSync(handle);
  }
}
