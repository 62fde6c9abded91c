import { randomBytes } from 'node:crypto';
import { link, rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { ofFile } from '../register/log/keys.js';
import { readIfThere } from './input-file.js';
import { refuse } from './messages.js';

const identityFile = (dir: string): string => join(dir, 'workshop.id');

/** The identity of a workshop, which its folder keeps when it is moved or copied; undefined before its first entry. */
export async function readWorkshopIdentity(dir: string): Promise<string | undefined> {
  const file = identityFile(dir);
  const bytes = await readIfThere(file);
  if (!bytes) return undefined;
  const id = bytes.toString('latin1').trim();
  if (/^[0-9a-f]{32}$/.test(id)) return id;
  throw refuse('workshop.identity-unreadable', file, {});
}

/** Gives a workshop an identity, unless it has one. Of two programs that do so at once, one wins. */
export async function makeWorkshopIdentity(
  dir: string,
  id = randomBytes(16).toString('hex'),
): Promise<string> {
  const known = await readWorkshopIdentity(dir);
  if (known !== undefined) return known;
  const file = identityFile(dir);
  const temporary = `${file}.${randomBytes(6).toString('hex')}`;
  try {
    await writeFile(temporary, `${id}\n`, { flag: 'wx', flush: true });
    await link(temporary, file).catch(async (error: NodeJS.ErrnoException) => {
      if (error.code === 'EEXIST') return;
      // A disk without hard links.
      if (!['EPERM', 'ENOTSUP', 'ENOSYS'].includes(error.code ?? '')) throw error;
      await rename(temporary, file);
    });
  } catch (error) {
    throw ofFile(error, file);
  } finally {
    await rm(temporary, { force: true }).catch(() => undefined);
  }
  return (await readWorkshopIdentity(dir)) ?? id;
}
