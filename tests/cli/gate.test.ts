import {
  cpSync,
  existsSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { some, started } from './burin.js';
import { cleanAfterAll, edit, newFolder, newQuickBench } from './folders.js';
import {
  ask,
  CHECKPOINT,
  CUT,
  does,
  expectRefused,
  ISSUE,
  labelsOf,
  MOVE,
  newMachine,
  putRegister,
  RECORD,
  removeRegister,
  WAYS,
} from './gate-ways.js';

cleanAfterAll();

describe('a register lost, copied, set back or swapped', () => {
  test('there are twenty ways at least', () => {
    expect(Object.keys(WAYS).length).toBeGreaterThanOrEqual(20);
  });

  // Every command after every way, with a key and without one, is tried in `gate.slow.test.ts`.
  test.each(Object.entries(WAYS).map(([name, way], i) => ({ name, way, i })))(
    '$name: no number twice',
    async ({ way, i }) => {
      const machine = await newMachine({ signs: i % 2 === 0 });
      await expectRefused(machine, way, [[ISSUE, RECORD, CUT, CHECKPOINT, MOVE][i % 5]!]);
    },
  );
});

describe('a machine that never saw a register', () => {
  const newcomer = async () => {
    const machine = await newMachine({ signs: true });
    return { ...machine, keys: path.join(path.dirname(machine.dir), 'new-keys') };
  };

  test('refuses where the workshop has an identity and its register is gone, and says so in every answer', async () => {
    const machine = await newcomer();
    removeRegister(machine.dir);
    for (const words of [ISSUE, RECORD, CUT, CHECKPOINT, MOVE]) {
      for (const form of [[], ['--json']]) {
        const said = await ask(machine, [...words, ...form]);
        expect([words[0], said.code]).toEqual([words[0], 3]);
        expect(said.stdout + said.stderr).toContain('This register is empty or missing.');
      }
    }
    const audited = await ask(machine, ['audit']);
    expect(audited.code).toBe(1);
    expect(audited.stdout).toContain('This register is empty or missing.');
    expect(audited.stdout).not.toContain('covered');
    for (const words of [
      ['register', 'nine-lights'],
      ['export', '--jsonl'],
    ]) {
      const said = await ask(machine, words);
      expect([words[0], said.code]).toEqual([words[0], 0]);
      expect(said.stderr).toContain('Missing: ');
    }
    // A copy that has its register is sound.
    const elsewhere = await ask(machine, ['audit'], machine.copy);
    expect([elsewhere.code, elsewhere.stderr]).toEqual([0, '']);
  });

  test('goes on from an export, or once somebody answers for going on without one', async () => {
    const restored = await newcomer();
    removeRegister(restored.dir);
    const answer = ['--by', 'A. Moss', '--why', 'nobody signed it'];
    await does(restored, ['restore', restored.exported, ...answer]);
    expect(labelsOf(await does(restored, ISSUE))).toEqual(['03/90']);

    const without = await newcomer();
    removeRegister(without.dir);
    const refused = await ask(without, ['restore']);
    expect(refused.code).not.toBe(0);
    await does(without, ['restore', '--by', 'A. Moss', '--why', 'a bench that starts anew']);
    expect(labelsOf(await does(without, ISSUE))).toEqual(['01/90']);
  });
});

describe('what is right goes on', () => {
  const next = async (machine: Awaited<ReturnType<typeof newMachine>>, dir = machine.dir) =>
    labelsOf(await does(machine, ISSUE, dir));

  test('in the same folder, in a moved one, under a new name, and in one that lost its identity', async () => {
    const machine = await newMachine({ signs: false });
    expect(await next(machine)).toEqual(['05/90']);
    const moved = `${machine.dir}-moved`;
    renameSync(machine.dir, moved);
    expect(await next(machine, moved)).toEqual(['06/90']);
    edit(moved, 'workshop.yaml', 'name: Lantern Coast', 'name: Lantern Coast & Daughters');
    expect(await next(machine, moved)).toEqual(['07/90']);
    const id = readFileSync(path.join(moved, 'workshop.id'), 'utf8');
    rmSync(path.join(moved, 'workshop.id'));
    expect(await next(machine, moved)).toEqual(['08/90']);
    expect(readFileSync(path.join(moved, 'workshop.id'), 'utf8')).toBe(id);
    // Another folder of documents on the same register: a copy that lost nothing.
    const copy = `${machine.dir}-copy`;
    cpSync(moved, copy, { recursive: true });
    expect(await next(machine, copy)).toEqual(['09/90']);
  });

  test('with the newest backup put back, and with a whole export restored', async () => {
    const machine = await newMachine({ signs: true });
    const newest = path.join(path.dirname(machine.dir), 'newest.db');
    const whole = path.join(path.dirname(machine.dir), 'newest.jsonl');
    await does(machine, ['backup', newest]);
    await does(machine, ['export', '--jsonl', '--out', whole]);
    for (const end of ['', '-wal', '-shm'])
      rmSync(path.join(machine.dir, `register.db${end}`), { force: true });
    cpSync(newest, path.join(machine.dir, 'register.db'));
    expect(await next(machine)).toEqual(['05/90']);
    await does(machine, ['export', '--jsonl', '--out', whole]);
    for (const end of ['', '-wal', '-shm'])
      rmSync(path.join(machine.dir, `register.db${end}`), { force: true });
    await does(machine, ['restore', whole]);
    expect(await next(machine)).toEqual(['06/90']);
  });

  test('where a kill came between entry and memory, and where nothing was remembered', async () => {
    const machine = await newMachine({ signs: false });
    const memory = path.join(machine.keys, 'workshops');
    const [name] = readdirSync(memory);
    const before = readFileSync(path.join(memory, name!));
    expect(await next(machine)).toEqual(['05/90']);
    writeFileSync(path.join(memory, name!), before);
    expect(await next(machine)).toEqual(['06/90']);
    rmSync(memory, { recursive: true });
    expect(await next(machine)).toEqual(['07/90']);
    rmSync(memory, { recursive: true });
    rmSync(path.join(machine.dir, 'workshop.id'));
    expect(await next(machine)).toEqual(['08/90']);
  });

  test('several at once, the first entry among them', async () => {
    const place = newFolder();
    const dir = newQuickBench(path.join(place, 'bench'));
    const env = { BURIN_KEYS: path.join(place, 'keys') };
    const labels: string[] = [];
    await some(4, [...Array(6).keys()], async () => {
      const said = await started(ISSUE, { cwd: dir, env });
      expect(said.code).toBe(0);
      labels.push(...labelsOf(said.stdout));
    });
    expect([...labels].sort()).toEqual(Array.from({ length: 6 }, (_, i) => `0${i + 1}/90`));
    expect(readdirSync(path.join(env.BURIN_KEYS, 'workshops'))).toHaveLength(1);
  });

  test('two workshops of two names, and a workshop that only looks gets no identity', async () => {
    const machine = await newMachine({ signs: false });
    const second = newQuickBench(path.join(newFolder(), 'second'));
    edit(second, 'workshop.yaml', 'name: Lantern Coast', 'name: Salt Lamp');
    await does(machine, ['register', 'nine-lights'], second);
    expect(existsSync(path.join(second, 'workshop.id'))).toBe(false);
    expect(await next(machine, second)).toEqual(['01/90']);
    expect(await next(machine)).toEqual(['05/90']);
    expect(await next(machine, second)).toEqual(['02/90']);
    // Known to the machine under its identity, it may take the name of the other.
    edit(second, 'workshop.yaml', 'name: Salt Lamp', 'name: Lantern Coast');
    expect(await next(machine, second)).toEqual(['03/90']);
    expect(await next(machine)).toEqual(['06/90']);
  });

  test('where the memory cannot be written: the entry stands, and stderr says so', async () => {
    const machine = await newMachine({ signs: false });
    rmSync(path.join(machine.keys, 'workshops'), { recursive: true });
    writeFileSync(path.join(machine.keys, 'workshops'), '');
    const said = await ask(machine, [...ISSUE, '--json']);
    expect(said.code).toBe(0);
    expect(labelsOf(said.stdout)).toEqual(['05/90']);
    expect(said.stderr).toMatch(/^Not remembered: .*workshops/m);
  });
});

test('what is remembered is private, and holds no password', async () => {
  const machine = await newMachine({ signs: false });
  const memory = path.join(machine.keys, 'workshops');
  const [name] = readdirSync(memory);
  expect((statSync(memory).mode & 0o777).toString(8)).toBe('700');
  expect((statSync(path.join(memory, name!)).mode & 0o777).toString(8)).toBe('600');
  const value = JSON.parse(readFileSync(path.join(memory, name!), 'utf8'));
  expect(value).toMatchObject({ origin: 'burin/lantern-coast', size: 5 });
  expect(Object.keys(value).sort()).toEqual(
    ['first', 'folder', 'id', 'last', 'origin', 'place', 'size', 'version'].sort(),
  );
});

test('a memory that is damaged refuses, and says what to do', async () => {
  const machine = await newMachine({ signs: false });
  const memory = path.join(machine.keys, 'workshops');
  const file = path.join(memory, readdirSync(memory)[0]!);
  writeFileSync(file, '{"size":0}\n');
  const said = await ask(machine, ISSUE);
  expect(said.code).toBe(3);
  expect(said.stderr).toMatch(/cannot be read\. Put it back .*move it aside.*`burin restore --dry-run`/);

  // As it says: what was kept elsewhere shows that this register is an old copy.
  const newest = path.join(path.dirname(machine.dir), 'newest.jsonl');
  await does(machine, ['export', '--jsonl', '--out', newest]);
  renameSync(file, `${file}.aside`);
  putRegister(machine.backup, machine.dir);
  const shown = await does(machine, ['restore', '--dry-run', newest]);
  expect(shown).toMatch(/2 events/);
  // Nobody signed it.
  expect(shown).toMatch(/2 events of it are covered by no signature/);
  await does(machine, ['restore', newest, '--by', 'A. Moss', '--why', 'the memory was damaged']);
  expect(labelsOf(await does(machine, ISSUE))).toEqual(['05/90']);
});
