import { open } from 'node:fs/promises';
import { Refusal } from '../problem.js';
import { diskProblem } from './disk.js';

/**
 * The bytes of a file that someone named; of one larger than `most`, one byte more than that, which shows it. Throws a
 * Refusal (exit 2) when it cannot be read.
 */
export async function readInput(file: string, most: number): Promise<Buffer> {
  try {
    const handle = await open(file, 'r');
    try {
      const chunks: Buffer[] = [];
      // The last byte that is read stands at `end`.
      const stream = handle.createReadStream({ autoClose: false, end: most, highWaterMark: 1 << 20 });
      for await (const chunk of stream) chunks.push(chunk as Buffer);
      return Buffer.concat(chunks);
    } finally {
      await handle.close();
    }
  } catch (error) {
    const found = diskProblem(error, file);
    throw found ? new Refusal([found]) : error;
  }
}
