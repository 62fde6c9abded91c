import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { importsOf, sourceFiles, targetOf } from './imports.js';

/** The rooms of the house in the order work passes through them. A room may import from those before it only. */
const ROOMS = [
  'geometry',
  'documents',
  'surface',
  'lettering',
  'artwork',
  'edition',
  'register',
  'layout',
  'cutting',
  'station',
  'sheets',
  'app',
  'cli',
];
/** Read by every room, and reading none. */
const GROUND = ['units.ts', 'problem.ts', 'piece-files.ts', 'text-chunks.ts', 'parse-json.ts'];

/** Rooms that may touch the disk, the clock, the network or chance. */
const EDGES = ['documents', 'register', 'app', 'cli'];

const files = sourceFiles();

const roomOf = (file: string): string => file.split('/')[0]!;

/** Why an import may not be, or undefined when it may. */
function broken(file: string, imported: string): string | undefined {
  const target = targetOf(file, imported);
  if (target === undefined || GROUND.includes(target)) return undefined;
  if (GROUND.includes(file)) return `${file} is ground and imports ${target}`;
  const [from, to] = [ROOMS.indexOf(roomOf(file)), ROOMS.indexOf(roomOf(target))];
  if (from < 0) return `${file} stands in no room`;
  if (to < 0 || to > from) return `${file} imports ${target}, which comes after it`;
  // A second opinion must not share the first one's mistakes.
  if (/^station\/read(back|er)/.test(file)) {
    if (/^(cutting|layout)\//.test(target)) return `${file} imports ${target}`;
    // The words of a fault decide nothing about a cut.
    if (target === 'station/messages.ts') return undefined;
    if (/^station\//.test(target) && !/^station\/read(back|er)/.test(target))
      return `${file} imports ${target}`;
  }
  return undefined;
}

describe('the house', () => {
  test('imports run down the path only', () => {
    expect(files.length).toBeGreaterThan(50);
    expect(files.flatMap((file) => importsOf(file).flatMap((i) => broken(file, i) ?? []))).toEqual([]);
  });

  test('the rooms are those that stand in the plan', () => {
    const folders = readdirSync('src', { withFileTypes: true }).filter((e) => e.isDirectory());
    expect(folders.map((e) => e.name).sort()).toEqual([...ROOMS].sort());
  });

  test('the rule can fail', () => {
    expect(broken('surface/cone.ts', '../lettering/font.js')).toBeDefined();
    expect(broken('station/readback.ts', '../cutting/cuts.js')).toBeDefined();
    expect(broken('station/reader.ts', './program.js')).toBeDefined();
    expect(broken('units.ts', './surface/cone.js')).toBeDefined();
    expect(broken('lettering/stroke-font.ts', '../../fonts/source/styles.js')).toBeDefined();
    expect(broken('cli/fit.ts', '../app/fit.js')).toBeUndefined();
  });

  test('rooms between the edges know no disk, clock, network or chance', () => {
    const outside = /^(node:)?(fs|fs\/promises|child_process|net|http|https|os|worker_threads|timers)$/;
    const touches =
      /\bDate\.now\b|\bnew Date\(\)|\bMath\.random\b|\bprocess\.|\bperformance\.now\b|\brandomUUID\b/;
    const found = files
      .filter((f) => !GROUND.includes(f) && !EDGES.includes(roomOf(f)))
      .filter(
        (f) =>
          importsOf(f).some((i) => outside.test(i)) || touches.test(readFileSync(join('src', f), 'utf8')),
      );
    expect(found).toEqual([]);
  });
});
