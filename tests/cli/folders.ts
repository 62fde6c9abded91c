import { createHash } from 'node:crypto';
import {
  chownSync,
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll } from 'vitest';

const templates = path.resolve(import.meta.dirname, '../../templates');
const made: string[] = [];

export const isRoot = process.getuid?.() === 0;

/** A new folder, gone when the file's tests are done. */
export function newFolder(): string {
  const dir = mkdtempSync(path.join(tmpdir(), 'burin-cli-'));
  made.push(dir);
  return dir;
}

export function cleanAfterAll(): void {
  afterAll(() => {
    for (const dir of made.splice(0)) rmSync(dir, { recursive: true, force: true });
  });
}

/** A bench made from a template, without asking the command for it. */
export function newBench(dir = path.join(newFolder(), 'bench'), template = 'nine-lights'): string {
  mkdirSync(dir, { recursive: true });
  cpSync(path.join(templates, template), dir, { recursive: true });
  return dir;
}

/**
 * As `newBench`, its titles of few letters, in strokes that are traced instead of outlines that are grooved: the same
 * files, two surfaces and two cutters, at a part of the work, for tests of what is done with a cut rather than of the cut.
 */
export const newQuickBench = (dir?: string): string => makeQuick(newBench(dir));

export function makeQuick(bench: string): string {
  edit(bench, 'designs/barrel-title.yaml', 'font: garamond', 'font: burin-plain');
  edit(bench, 'designs/barrel-title.yaml', 'size: { min: 2, max: 3.2 }', 'size: 2');
  edit(bench, 'designs/barrel-title.yaml', '    way: groove\n    land: 0.1\n', '');
  edit(bench, 'designs/barrel-title.yaml', 'text: NINE LIGHTS', 'text: IX');
  edit(bench, 'designs/barrel-title.yaml', 'text: Lantern Coast', 'text: LC');
  return bench;
}

/** Replaces text that stands exactly once in a document. */
export function edit(bench: string, file: string, from: string, to: string): void {
  const at = path.join(bench, file);
  const text = readFileSync(at, 'utf8');
  if (text.split(from).length !== 2) throw new Error(`${from} does not stand exactly once in ${file}`);
  writeFileSync(
    at,
    text.replace(from, () => to),
  );
}

/** Every file below a folder, hidden ones too, by its path. */
export function filesIn(dir: string): string[] {
  if (!existsSync(dir)) return [];
  return readdirSync(dir, { withFileTypes: true, recursive: true })
    .filter((e) => !e.isDirectory())
    .map((e) => path.relative(dir, path.join(e.parentPath, e.name)))
    .sort();
}

/** SHA-256 of every file below a folder. */
export const hashes = (dir: string): Record<string, string> =>
  Object.fromEntries(
    filesIn(dir).map((file) => [
      file,
      createHash('sha256')
        .update(readFileSync(path.join(dir, file)))
        .digest('hex'),
    ]),
  );

/** Gives everything below a folder to another user. */
export function give(dir: string, uid: number): void {
  chownSync(dir, uid, uid);
  for (const e of readdirSync(dir, { recursive: true })) chownSync(path.join(dir, String(e)), uid, uid);
}
