import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { well } from '../cli/burin.js';
import { edit, newBench } from '../cli/folders.js';

/** A call from `app/` into another room: the file it entered, and the function. */
type Entry = readonly [file: string, name: string];

const CLI = 'dist/cli/main.js';
const folder = mkdtempSync(join(tmpdir(), 'burin-way-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** The calls of `burin cut` for one piece of the sample edition, in order; its title is cut short. */
async function traceCut(): Promise<Entry[]> {
  const workshop = newBench(join(folder, 'bench'));
  edit(workshop, 'designs/barrel-title.yaml', 'text: NINE LIGHTS', 'text: L');
  const trace = join(folder, 'trace.json');
  const environment = { ...process.env, BURIN_KEYS: join(folder, 'keys'), TRACE_FILE: trace };
  const issue = ['issue', 'nine-lights', '--series', 'main', '--count', '7', '--by', 'E. M.'];
  await well(issue, { cwd: workshop, env: environment });
  const cut = ['cut', 'nine-lights', '--series', 'main', '--numbers', '7', '--station', 'rotary-level'];
  execFileSync(
    process.execPath,
    ['--import', './tests/house/trace.mjs', CLI, ...cut, '--workshop', workshop],
    { env: environment, stdio: ['ignore', 'pipe', 'pipe'] },
  );
  const all = JSON.parse(readFileSync(trace, 'utf8')) as Entry[];
  // Before the way begins, the door has the folder of keys worked out from its environment; on the way it is told how
  // far the job is.
  return all.filter(([file, name]) => name !== 'keysFolder' && roomOf(file) !== 'cli');
}

let entries: Entry[];
beforeAll(async () => {
  entries = await traceCut();
});

const roomOf = (file: string): string => file.split('/')[0]!;

/** A list without what equals the one before it. */
const steps = (all: readonly string[]): string[] => all.filter((one, i) => one !== all[i - 1]);

/** Rows of the first table of a page whose first cell names a room: the room, and the words in code of the second. */
function tableOf(page: string): { room: string; code: string[] }[] {
  return readFileSync(page, 'utf8')
    .split('\n')
    .flatMap((line) => {
      const [, first = '', second = ''] = line.split('|');
      const room = /^ `(\w+)\/` $/.exec(first)?.[1];
      return room ? [{ room, code: [...second.matchAll(/`(\w+)`/g)].map((m) => m[1]!) }] : [];
    });
}

describe('the way of a number', () => {
  // The files on disk are compared with the proved blocks after all of them are written; then the register is told.
  const isCheck = ([file, name]: Entry) => `${file} ${name}` === 'station/program-maker.js check';
  const wayOf = (all: readonly Entry[]) => all.slice(0, all.findIndex(isCheck));
  const endOf = (all: readonly Entry[]) => all.slice(all.findIndex(isCheck));

  test('enters each room once, in the order of the house', () => {
    const house = tableOf('DEVELOPERS.md').map(({ room }) => room);
    expect(house).toContain('geometry');
    const visited = house.filter((room) => !['geometry', 'app', 'cli'].includes(room));
    expect(steps(wayOf(entries).map(([file]) => roomOf(file)))).toEqual(visited);
  });

  test('ends with the bytes on disk and with the register, as listed', () => {
    const end = endOf(entries);
    const told = end.filter((entry) => !isCheck(entry));
    expect(end.slice(0, end.length - told.length).every(isCheck)).toBe(true);
    const page = readFileSync('docs/way-of-a-number.md', 'utf8');
    const lines = page.match(/^\| (?:the sheets, filled in again|what is entered)[^|]*\|.*\|$/gm)!;
    expect([...lines.join().matchAll(/`(\w+)`/g)].map((m) => m[1]!)).toEqual([
      ...new Set(told.map(([, name]) => name)),
    ]);
  });

  test('is listed as it runs', () => {
    // Schemas hold questions about a document, such as whether a mark has letters; they are no step.
    const taken = wayOf(entries).filter(([file]) => !file.startsWith('documents/schema/'));
    const run = new Map<string, string[]>();
    for (const [file, name] of taken) {
      const names = run.get(roomOf(file)) ?? [];
      if (!names.includes(name)) names.push(name);
      run.set(roomOf(file), names);
    }
    const listed = tableOf('docs/way-of-a-number.md').map(({ room, code }) => [room, code]);
    expect(listed).toEqual([...run]);
  });
});
