import { cpSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import Database from 'better-sqlite3';
import { expect } from 'vitest';
import { burin, linesOf, type Said, well } from './burin.js';
import { edit, hashes, newFolder, newQuickBench } from './folders.js';

/** A machine with one bench: its folder, and the folder of keys that remembers it. */
export interface Machine {
  readonly dir: string;
  readonly keys: string;
  /** Copies from earlier: after two numbers. */
  readonly backup: string;
  readonly exported: string;
  readonly copy: string;
}

export const ISSUE = ['issue', 'nine-lights', '--series', 'main', '--count', '1', '--by', 'A. Moss'];
export const RECORD = ['record', 'nine-lights', '01/90', 'engraved', '--by', 'A. Moss'];
export const CUT = [
  ...['cut', 'nine-lights', '--series', 'main', '--numbers', '1', '--station', 'rotary-level'],
];
/** What enters nothing, and signs the register or takes it elsewhere. */
export const CHECKPOINT = ['checkpoint'];
export const MOVE = ['move', '--to', 'postgres://127.0.0.1:9/nowhere'];
export const RETIRE = ['key', 'retire', '--reason', 'planned'];
const ENDS = ['', '-wal', '-shm'];

export const labelsOf = (stdout: string): string[] => stdout.match(/\d\d\/90/g) ?? [];

export function ask(machine: Machine, words: readonly string[], cwd = machine.dir): Promise<Said> {
  return burin(words, { cwd, env: { BURIN_KEYS: machine.keys } });
}

export const does = (machine: Machine, words: readonly string[], cwd = machine.dir): Promise<string> =>
  well(words, { cwd, env: { BURIN_KEYS: machine.keys } });

const made = new Map<boolean, Promise<Machine>>();

/**
 * Four numbers were issued, and copies taken after two. The history is lived once, and laid down anew in the same place
 * for whoever asks: a machine knows its folders by their paths.
 */
export async function newMachine({ signs }: { signs: boolean }): Promise<Machine> {
  const living = made.get(signs) ?? live(signs);
  made.set(signs, living);
  const machine = await living;
  const place = path.dirname(machine.dir);
  rmSync(place, { recursive: true, force: true });
  cpSync(asLived(place), place, { recursive: true, preserveTimestamps: true });
  return machine;
}

const asLived = (place: string): string => path.join(path.dirname(place), 'as-lived');

async function live(signs: boolean): Promise<Machine> {
  const place = path.join(newFolder(), 'machine');
  const dir = newQuickBench(path.join(place, 'bench'));
  const machine = {
    ...{ dir, keys: path.join(place, 'keys'), backup: path.join(place, 'old.db') },
    ...{ exported: path.join(place, 'old.jsonl'), copy: path.join(place, 'copy') },
  };
  if (signs) await does(machine, ['key', 'new']);
  for (let n = 1; n <= 4; n++) {
    await does(machine, ISSUE);
    if (n !== 2) continue;
    await does(machine, ['backup', machine.backup]);
    await does(machine, ['export', '--jsonl', '--out', machine.exported]);
    cpSync(dir, machine.copy, { recursive: true });
  }
  cpSync(place, asLived(place), { recursive: true, preserveTimestamps: true });
  return machine;
}

const register = (dir: string): string => path.join(dir, 'register.db');

export function removeRegister(dir: string): void {
  for (const end of ENDS) rmSync(register(dir) + end, { force: true });
}

export function putRegister(from: string, dir: string): void {
  removeRegister(dir);
  cpSync(from, register(dir));
}

const rename = (dir: string, to: string): void =>
  edit(dir, 'workshop.yaml', 'name: Lantern Coast', `name: ${to}`);

/** Another bench of the same machine with as many numbers. */
async function other(machine: Machine, name?: string): Promise<string> {
  const dir = newQuickBench(path.join(path.dirname(machine.dir), 'other'));
  if (name !== undefined) rename(dir, name);
  const elsewhere = { ...machine, keys: path.join(path.dirname(machine.dir), 'other-keys') };
  const from = name === undefined ? elsewhere : machine;
  for (let n = 1; n <= 4; n++) await does(from, ISSUE, dir);
  return dir;
}

/** Ways to lose, copy, roll back or swap a register; each gives the folder in which the next number is asked for. */
export const WAYS: Readonly<Record<string, (machine: Machine) => Promise<string> | string>> = {
  "yesterday's file is put back": ({ dir, backup }) => {
    putRegister(backup, dir);
    return dir;
  },
  'the file is deleted with its companions': ({ dir }) => {
    removeRegister(dir);
    return dir;
  },
  'the file is moved away, its companions stay': ({ dir }) => {
    renameSync(register(dir), path.join(dir, 'moved.db'));
    writeFileSync(`${register(dir)}-wal`, '');
    return dir;
  },
  'an empty file stands in its place': ({ dir }) => {
    removeRegister(dir);
    writeFileSync(register(dir), '');
    return dir;
  },
  'the file is cut short': ({ dir }) => {
    removeRegister(dir);
    writeFileSync(register(dir), 'SQLite format 3\0');
    return dir;
  },
  'the last events are deleted past the triggers': ({ dir }) => {
    const db = new Database(register(dir));
    for (const name of db
      .prepare<[], string>("SELECT name FROM sqlite_schema WHERE type = 'trigger'")
      .pluck()
      .all())
      db.exec(`DROP TRIGGER "${name}"`);
    db.exec('DELETE FROM checkpoint; DELETE FROM event WHERE seq >= 3');
    db.close();
    return dir;
  },
  'the file of another workshop is put in its place': async (machine) => {
    const from = await other(machine, 'Salt Lamp');
    putRegister(register(from), machine.dir);
    return machine.dir;
  },
  'a register of the same name, made elsewhere, is put in its place': async (machine) => {
    const from = await other(machine);
    putRegister(register(from), machine.dir);
    return machine.dir;
  },
  'the old export is restored over a deleted register': async (machine) => {
    removeRegister(machine.dir);
    await ask(machine, ['restore', machine.exported]);
    return machine.dir;
  },
  'the old copy of the folder is used': ({ copy }) => copy,
  'the old copy of the folder is put in its place': ({ dir, copy }) => {
    rmSync(dir, { recursive: true });
    renameSync(copy, dir);
    return dir;
  },
  'the old copy of the folder is used elsewhere, the folder is gone': ({ dir, copy }) => {
    rmSync(dir, { recursive: true });
    return copy;
  },
  'the folder is deleted and made anew from the documents': ({ dir }) => {
    rmSync(dir, { recursive: true });
    return newQuickBench(dir);
  },
  'the documents alone are copied to another folder': ({ dir }) => newQuickBench(`${dir}-2`),
  'the documents are made anew under another name in the same folder': ({ dir }) => {
    rmSync(dir, { recursive: true });
    newQuickBench(dir);
    rename(dir, 'First Light');
    return dir;
  },
  'the register and the identity are deleted': ({ dir }) => {
    removeRegister(dir);
    rmSync(path.join(dir, 'workshop.id'));
    return dir;
  },
  'the old file is put back and the identity is deleted': ({ dir, backup }) => {
    putRegister(backup, dir);
    rmSync(path.join(dir, 'workshop.id'));
    return dir;
  },
  'the register is deleted and the identity replaced': ({ dir }) => {
    removeRegister(dir);
    writeFileSync(path.join(dir, 'workshop.id'), `${'0123456789abcdef'.repeat(2)}\n`);
    return dir;
  },
  'the old file is put back and the identity replaced': ({ dir, backup }) => {
    putRegister(backup, dir);
    writeFileSync(path.join(dir, 'workshop.id'), `${'0123456789abcdef'.repeat(2)}\n`);
    return dir;
  },
  'the identity is scribbled over': ({ dir, backup }) => {
    putRegister(backup, dir);
    writeFileSync(path.join(dir, 'workshop.id'), 'lantern coast\n');
    return dir;
  },
  'register and identity of another workshop are put in its place': async (machine) => {
    const from = await other(machine, 'Salt Lamp');
    putRegister(register(from), machine.dir);
    cpSync(path.join(from, 'workshop.id'), path.join(machine.dir, 'workshop.id'));
    return machine.dir;
  },
  'the old copy of the folder is renamed in its document': ({ copy }) => {
    rename(copy, 'First Light');
    return copy;
  },
  'the folder is copied whole, and then the copy is used after the first': async (machine) => {
    const twin = `${machine.dir}-twin`;
    cpSync(machine.dir, twin, { recursive: true });
    await does(machine, ISSUE);
    return twin;
  },
  'the folder is copied whole, and then the first is used after the copy': async (machine) => {
    const twin = `${machine.dir}-twin`;
    cpSync(machine.dir, twin, { recursive: true });
    await does(machine, ISSUE, twin);
    return machine.dir;
  },
};

/** After one of the ways, each command is refused, in one line and as JSON, and leaves everything as it is. */
export async function expectRefused(
  machine: Machine,
  way: (typeof WAYS)[string],
  commands: readonly (readonly string[])[],
): Promise<void> {
  const dir = await way(machine);
  const before = named(hashes(dir));
  for (const words of commands) {
    const plain = await ask(machine, words, dir);
    expect({ words, ...plain }).toMatchObject({ code: 3, stdout: '' });
    expect(linesOf(plain.stderr)).toHaveLength(1);
    const json = await ask(machine, [...words, '--json'], dir);
    expect(json.code).toBe(3);
    const answer = JSON.parse(json.stdout);
    expect(answer).toMatchObject({ ok: false, problems: [{ code: expect.any(String) }] });
  }
  expect(named(hashes(dir))).toEqual(before);
}

/** Without what SQLite keeps beside a file that is open, and what it writes at the head of one when it is opened. */
const named = (all: Record<string, string>) =>
  Object.entries(all).flatMap(([name, hash]) =>
    /-(wal|shm)$/.test(name) ? [] : name === 'register.db' ? [name] : [`${name} ${hash}`],
  );
