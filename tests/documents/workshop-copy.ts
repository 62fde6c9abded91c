import { createHash } from 'node:crypto';
import { cpSync, lstatSync, mkdtempSync, readdirSync, readFileSync, readlinkSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { readCarriedFonts } from '../../src/documents/carried-fonts.js';

export const goodWorkshop = path.resolve(import.meta.dirname, '../fixtures/workshop');

/** The fonts burin carries; the good workshop's designs ask for two of them. */
export const builtInFonts: ReadonlySet<string> = readCarriedFonts().ids;

/** A copy of the good workshop in a folder of its own, for a test to spoil and throw away. */
export function copyOfGood(): string {
  const dir = mkdtempSync(path.join(os.tmpdir(), 'burin-workshop-'));
  cpSync(goodWorkshop, dir, { recursive: true });
  return dir;
}

/** Every entry below a folder with its size, time of change and contents, to tell that nothing was written. */
export function listing(dir: string): string[] {
  return readdirSync(dir)
    .sort()
    .flatMap((name) => {
      const file = path.join(dir, name);
      const stat = lstatSync(file);
      // links are told by what they say, never followed: some of them lead out of the workshop
      const contents = stat.isSymbolicLink()
        ? readlinkSync(file)
        : stat.isFile()
          ? digest(file, stat.size)
          : '';
      const entry = `${name} ${stat.mode} ${stat.size} ${stat.mtimeMs} ${contents}`;
      return stat.isDirectory() ? [entry, ...listing(file).map((below) => `${name}/${below}`)] : [entry];
    });
}

function digest(file: string, size: number): string {
  if (size > 2_000_000) return 'large';
  try {
    return createHash('sha256').update(readFileSync(file)).digest('hex');
  } catch {
    return 'unreadable';
  }
}
