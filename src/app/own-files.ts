import { open } from 'node:fs/promises';
import { readHead } from '../station/reader-head.js';

/** Both kinds of file say what they are in so many bytes. */
const HEAD_BYTES = 4096;

/**
 * Whether a file was written by an earlier cut: a program begins with its head, a sheet with the label of its piece. A
 * name says nothing: a person's photograph may be called photo.svg.
 */
export async function isCutFile(file: string): Promise<boolean> {
  const handle = await open(file, 'r');
  try {
    const { buffer, bytesRead } = await handle.read(Buffer.alloc(HEAD_BYTES), 0, HEAD_BYTES, 0);
    const text = buffer.toString('latin1', 0, bytesRead);
    if (readHead(text.split('\n'), () => undefined)) return true;
    return /^<svg xmlns="[^"]*" [^>]* data-label="[^>]*><title>[^<]*<\/title><g data-role="surface"/.test(
      text,
    );
  } finally {
    await handle.close();
  }
}
