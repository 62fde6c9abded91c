import { existsSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { burin, linesOf, well } from './burin.js';
import { cleanAfterAll, newFolder, newQuickBench } from './folders.js';

cleanAfterAll();

const WHO = ['--by', 'E. Marrow'];

function bench() {
  const [dir, keys] = [newQuickBench(), newFolder()];
  const around = { cwd: dir, env: { BURIN_KEYS: keys } };
  const does = (...words: string[]) => well(words, around);
  return {
    dir,
    keys,
    ask: (...words: string[]) => burin(words, around),
    does,
    issue: (count = 1) =>
      burin(['issue', 'nine-lights', '--series', 'main', '--count', `${count}`, ...WHO], around),
    certify: async (label: string, out: string) => {
      for (const part of ['cap', 'barrel'])
        await burin(['record', 'nine-lights', label, 'engraved', '--part', part, ...WHO], around);
      await does('certificate', 'nine-lights', label, '--out', out);
      return path.join(out, `nine-lights-main-00${label.slice(0, 2)}-1.json`);
    },
  };
}

describe('a key that is replaced as planned', () => {
  test('hands over to the next, and counts for what it signed', async () => {
    const { ask, does, issue, certify, keys, dir } = bench();
    await does('key', 'new', '--out', 'first.pub');
    await issue(3);
    const old = await certify('01/90', 'old');
    const retired = await ask('key', 'retire', '--reason', 'planned');
    expect(retired.code, retired.stderr).toBe(0);
    expect(retired.stderr).toMatch(/has ended \(planned\): it counts up to 6 events/);
    expect(
      readdirSync(keys).filter((name) => /^lantern-coast\.retired-[0-9a-f]{8}\.pem$/.test(name)),
    ).toHaveLength(1);
    expect(existsSync(path.join(keys, 'lantern-coast.pem'))).toBe(false);
    // Meanwhile entries are not in the way, and say how to go on.
    expect((await issue()).stderr).toMatch(/^Not signed: .* was retired, .*`burin key new`\.\n$/);
    await does('key', 'new');
    expect(await issue()).toMatchObject({ code: 0, stderr: '' });
    const young = await certify('02/90', 'young');

    const shown = linesOf(await does('key', 'show', '--history', '--out', 'maker.keys'));
    expect(readFileSync(path.join(dir, 'maker.keys'), 'utf8')).toBe(`${shown.join('\n')}\n`);
    const first = linesOf(readFileSync(path.join(dir, 'first.pub'), 'utf8'))[0]!;
    expect(shown.slice(0, 3)).toEqual([
      'keys of burin/lantern-coast',
      `${first} 0 6 planned`,
      `${linesOf(await does('key', 'show'))[0]} 6 open`,
    ]);
    // The handover is a checkpoint of the old key that names the new one.
    expect(shown.slice(4, 6)).toEqual(['burin/lantern-coast', '6']);

    for (const paper of [old, young])
      expect((await ask('verify', paper, '--key', 'maker.keys')).stdout).toMatch(/^Genuine:/);
    expect((await ask('verify', old, '--key', 'first.pub')).code).toBe(0);
    expect((await ask('verify', young, '--key', 'first.pub')).stderr).toMatch(/not signed with this key/);
    await does('withdrawals', '--out', 'withdrawn.list');
    expect(await does('verify', old, '--key', 'maker.keys', '--withdrawals', 'withdrawn.list')).toMatch(
      /Not withdrawn, as of/,
    );
    const audited = await ask('audit', '--key', 'maker.keys');
    expect([audited.code, linesOf(audited.stdout).at(-1)]).toEqual([0, 'No fault was found.']);
    expect(audited.stdout).not.toContain('not signed');
    expect((await ask('audit', '--key', 'first.pub')).code).toBe(1);
  });

  test('is needed for the handover, and signs nothing when it is put back', async () => {
    const { ask, does, issue, keys } = bench();
    await does('key', 'new');
    await issue();
    await does('key', 'retire', '--reason', 'planned');
    const aside = path.join(keys, readdirSync(keys).find((name) => name.includes('retired'))!);
    renameSync(aside, path.join(keys, 'lantern-coast.pem'));
    expect((await ask('checkpoint')).stderr).toMatch(/was retired/);
    expect((await ask('key', 'new')).stderr).toMatch(/There is a key/);
    // Asked again, it goes on where it was cut short.
    await does('key', 'retire', '--reason', 'planned');
    expect(existsSync(aside)).toBe(true);
    renameSync(aside, `${aside}.away`);
    const refused = await ask('key', 'new');
    expect([refused.code, refused.stdout]).toEqual([3, '']);
    expect(refused.stderr).toMatch(/must sign the handover, but it is not here/);
    expect(existsSync(path.join(keys, 'lantern-coast.pem'))).toBe(false);
    await does('key', 'retire', '--reason', 'lost');
    await does('key', 'new');
    expect(await does('key', 'show', '--history')).toMatch(/ 0 2 lost\n.* 2 open\n$/);
  });
});

describe('a key that is lost', () => {
  test('is followed by a new one alone; an old copy of the register shows all the same', async () => {
    const { ask, does, issue, keys, dir } = bench();
    await does('key', 'new', '--out', 'maker.pub');
    await issue(2);
    await does('backup', 'old.db');
    await issue(2);
    expect((await ask('key', 'retire', '--reason', 'lost')).stderr).toMatch(/is here, so it is not lost/);
    rmSync(path.join(keys, 'lantern-coast.pem'));
    const stopped = await ask('key', 'new');
    expect([stopped.code, stopped.stderr]).toEqual([3, expect.stringMatching(/retire --reason lost/)]);
    await does('key', 'retire', '--reason', 'lost');
    await does('key', 'new');
    expect(await issue()).toMatchObject({ code: 0, stderr: '' });
    await does('key', 'show', '--history', '--out', 'maker.keys');
    expect((await ask('audit', '--key', 'maker.keys')).code).toBe(0);
    for (const end of ['', '-wal', '-shm']) rmSync(path.join(dir, `register.db${end}`), { force: true });
    renameSync(path.join(dir, 'old.db'), path.join(dir, 'register.db'));
    expect((await ask('checkpoint')).code).toBe(3);
  });

  test('with the whole folder of keys: the published line says which it was', async () => {
    const { ask, does, issue, keys } = bench();
    await does('key', 'new', '--out', 'maker.pub');
    await issue(2);
    rmSync(keys, { recursive: true });
    expect((await ask('key', 'retire', '--reason', 'lost')).stderr).toMatch(/Nothing here says which key/);
    const wrong = await ask('key', 'retire', '--reason', 'lost', '--key', 'workshop.yaml');
    expect(wrong.stderr).toMatch(/workshop\.yaml: It is not the public key of a log/);
    await does('key', 'retire', '--reason', 'lost', '--key', 'maker.pub');
    await does('key', 'new');
    expect(await does('key', 'show', '--history')).toMatch(/ 0 3 lost\n.* 3 open\n$/);
  });
});

describe('a key that is stolen', () => {
  test('counts up to the size that the maker says, and what it signed after is named', async () => {
    const { ask, does, issue, certify, dir } = bench();
    await does('key', 'new', '--out', 'first.pub');
    await issue(3);
    const early = await certify('01/90', 'early');
    await issue(2);
    const late = await certify('02/90', 'late');
    const size = Number((await does('checkpoint')).split('\n')[1]);
    expect((await ask('key', 'retire', '--reason', 'stolen', '--at', `${size + 1}`)).code).toBe(2);
    await does('checkpoint', '--out', 'late.checkpoint');
    await does('key', 'retire', '--reason', 'stolen', '--at', '6');
    await does('key', 'new');
    await does('key', 'show', '--history', '--out', 'maker.keys');
    const audit = ['audit', '--key', 'maker.keys', '--json'] as const;
    const codesOf = async () =>
      (JSON.parse((await ask(...audit)).stdout).findings as { code: string; grade: string }[]).map(
        ({ code, grade }) => `${grade} ${code}`,
      );
    // Until the new key vouches for the same events, that the old one signed for them is a fault.
    expect(new Set(await codesOf())).toEqual(new Set(['fault audit.key-retired']));
    expect(await issue()).toMatchObject({ code: 0, stderr: '' });
    expect(new Set(await codesOf())).toEqual(new Set(['remark audit.key-retired']));
    const audited = await ask('audit', '--key', 'maker.keys', '--checkpoint', 'late.checkpoint');
    expect(audited.code).toBe(0);
    expect(audited.stdout).toMatch(
      /late\.checkpoint: .* counts up to 6 events \(it was stolen\), and this is for/,
    );

    expect(await does('verify', early, '--key', 'maker.keys')).toMatch(
      /was stolen later: .* SHA-256 [0-9a-f]{64}/,
    );
    expect(await does('verify', early, '--key', 'first.pub')).not.toContain('stolen');
    const refused = await ask('verify', late, '--key', 'maker.keys');
    expect([refused.code, refused.stdout]).toEqual([1, '']);
    expect(refused.stderr).toMatch(/counts up to 6 events \(it was stolen\), and this is for \d+/);
    expect((await ask('verify', late, '--key', 'first.pub')).code).toBe(0);
    writeFileSync(
      path.join(dir, 'bad.keys'),
      readFileSync(path.join(dir, 'maker.keys'), 'utf8').replace(' 0 6', ' 0 9'),
    );
    expect((await ask('audit', '--key', 'bad.keys')).code).toBe(2);
    expect((await ask('verify', late, '--key', 'bad.keys')).code).toBe(1);
  });
});

test.each([
  [['retire'], /No reason is given for ending the key/],
  [['retire', '--reason', 'planned', '--at', '3'], /ends with what it signs now/],
  [['retire', '--reason', 'planned', '--name', 'x'], /--name is not for `key retire`/],
  [['new', '--history'], /--history is not for `key new`/],
  [['retire', '--reason', 'stolen', '--at', '-1'], /Give a number of events/],
  [['retire', '--reason', 'sold'], /planned, lost, stolen/],
])('burin key %j is refused', async (words, said) => {
  const { ask, does, issue } = bench();
  await does('key', 'new');
  await issue();
  const refused = await ask('key', ...words);
  expect([refused.code, refused.stdout]).toEqual([2, '']);
  expect(refused.stderr).toMatch(said);
});
