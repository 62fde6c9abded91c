import { randomBytes } from 'node:crypto';
import { open, rename, rm } from 'node:fs/promises';

/** Writes a file that others may be reading: they find what was there before or all of the new, never a part. */
export async function writeWhole(file: string, text: string, mode = 0o644): Promise<void> {
  const beside = `${file}.${randomBytes(6).toString('hex')}.partial`;
  try {
    const made = await open(beside, 'wx', mode);
    try {
      await made.writeFile(text);
      await made.sync();
    } finally {
      await made.close();
    }
    await rename(beside, file);
  } catch (error) {
    await rm(beside, { force: true }).catch(() => undefined);
    // Whoever is told asked for the file, and knows nothing of the one beside it.
    throw error instanceof Error && 'path' in error ? Object.assign(error, { path: file }) : error;
  }
}
