import { open, readFile } from 'node:fs/promises';
import { Refusal } from '../problem.js';
import { diskProblem } from './disk.js';

/** The bytes of a file that someone named. Throws a Refusal (exit 2) when it cannot be read. */
export const readInput = (file: string): Promise<Buffer> => orRefusal(file, () => readFile(file));

/** The same for a file that should be small: of a larger one, one byte more than `most`, which shows it. */
export const readInputUpTo = (file: string, most: number): Promise<Buffer> =>
  orRefusal(file, async () => {
    const handle = await open(file, 'r');
    try {
      const buffer = Buffer.alloc(most + 1);
      let length = 0;
      for (;;) {
        const { bytesRead } = await handle.read(buffer, length, buffer.length - length, length);
        length += bytesRead;
        if (bytesRead === 0 || length === buffer.length) return buffer.subarray(0, length);
      }
    } finally {
      await handle.close();
    }
  });

async function orRefusal<T>(file: string, work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    const found = diskProblem(error, file);
    throw found ? new Refusal([found]) : error;
  }
}
