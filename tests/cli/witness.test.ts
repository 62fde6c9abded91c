import { spawnSync } from 'node:child_process';
import {
  copyFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { burin, well } from './burin.js';
import { cleanAfterAll, newFolder, newQuickBench } from './folders.js';

cleanAfterAll();

const WHO = ['--by', 'E. Marrow'];

/** A keeper with a bench and a key, and the folder of letters that goes between the keeper and the witnesses. */
async function keeper() {
  const [dir, keys, mail] = [newQuickBench(), newFolder(), newFolder()];
  const around = { cwd: dir, env: { BURIN_KEYS: keys } };
  const ask = (...words: string[]) => burin(words, around);
  const does = (...words: string[]) => well(words, around);
  const letter = (name: string) => path.join(mail, name);
  await does('key', 'new', '--out', letter('maker.pub'));
  return {
    dir,
    keys,
    ask,
    does,
    letter,
    issue: (count = 1) => does('issue', 'nine-lights', '--series', 'main', '--count', `${count}`, ...WHO),
    engrave: (label: string) => does('record', 'nine-lights', label, 'engraved', ...WHO),
    size: async () => Number((await does('checkpoint')).split('\n')[1]),
  };
}

/** A person outside, in an empty folder, who has taken the log of `maker.pub`. */
async function outsider(name: string, letter: (name: string) => string) {
  const keys = newFolder();
  const around = { cwd: newFolder(), env: { BURIN_KEYS: keys } };
  const ask = (...words: string[]) => burin(['witness', ...words], around);
  const does = (...words: string[]) => well(['witness', ...words], around);
  await does('new', '--name', name, '--out', letter(`${name}.pub`));
  await does('add', letter('maker.pub'));
  return { ask, does, folder: path.join(keys, 'witness') };
}

test('a log is witnessed by mail, and its certificates say since when it was seen', async () => {
  const { ask, does, letter, issue, engrave, size, dir } = await keeper();
  const { ask: askWitness, does: witness } = await outsider('harbour', letter);
  await issue(3);
  await engrave('01/90');
  await does('checkpoint', '--for-witness', '--out', letter('first.request'));
  const before = Math.floor(Date.now() / 1000);
  await witness('cosign', letter('first.request'), '--out', letter('first.note'));
  const kept = await does(
    'checkpoint',
    '--cosigned',
    letter('first.note'),
    '--witness',
    letter('harbour.pub'),
  );
  expect(kept).toMatch(
    /^Seen by burin-witness\/harbour at 20\d\d-.*Z, for 5 events\.\nKept in cosigned\/5\.checkpoint\.\n$/,
  );
  expect(readdirSync(path.join(dir, 'cosigned'))).toEqual(['5.checkpoint']);

  // What the cosigned note covers carries it; what it does not, carries the present one.
  await engrave('02/90');
  await does('certificate', 'nine-lights', '01/90', '02/90', '--out', 'papers');
  const verify = (paper: string, ...more: string[]) =>
    ask('verify', path.join('papers', paper), '--key', letter('maker.pub'), ...more);
  const seen = await verify('nine-lights-main-0001-1.json', '--witness', letter('harbour.pub'));
  // Both are made in one go, and of one checkpoint: 02/90 is newer than the note.
  expect([seen.code, seen.stderr]).toEqual([
    1,
    expect.stringMatching(/no cosignature of this key of burin-witness\/harbour/),
  ]);
  await does('certificate', 'nine-lights', '01/90', '--out', 'again');
  const paper = path.join('again', 'nine-lights-main-0001-2.json');
  const said = JSON.parse(
    await does('verify', paper, '--key', letter('maker.pub'), '--witness', letter('harbour.pub'), '--json'),
  );
  expect(said).toMatchObject({
    ok: true,
    checkpoint: { size: 5 },
    seen: [{ name: 'burin-witness/harbour' }],
  });
  const at = Date.parse(said.seen[0].at) / 1000;
  expect(at).toBeGreaterThanOrEqual(before);
  expect(
    await does('verify', paper, '--key', letter('maker.pub'), '--witness', letter('harbour.pub')),
  ).toContain(`Seen by burin-witness/harbour at ${said.seen[0].at}, for the same events.`);
  // Without asking for the witness it is a certificate like any other.
  expect(await does('verify', paper, '--key', letter('maker.pub'))).not.toContain('Seen by');

  // Next time: from the last note on.
  await does('checkpoint', '--for-witness', letter('first.note'), '--out', letter('second.request'));
  await witness('cosign', letter('second.request'), '--out', letter('second.note'));
  await does('checkpoint', '--cosigned', letter('second.note'), '--witness', letter('harbour.pub'));
  const now = await size();
  await issue(2);
  const audit = (...more: string[]) => ask('audit', '--key', letter('maker.pub'), ...more);
  const covered = await audit('--checkpoint', letter('second.note'), '--witness', letter('harbour.pub'));
  expect(covered.code).toBe(0);
  const uncovered = (await size()) - now;
  expect(uncovered).toBeGreaterThan(0);
  expect(covered.stdout).toContain(`\n${uncovered} events are covered by no outside checkpoint\n`);
  expect(covered.stdout).toMatch(
    /second\.note\): agrees; signed by the key; seen by burin-witness\/harbour at 20/,
  );
  expect((await audit()).stdout).toContain(`\n${await size()} events are covered by no outside checkpoint\n`);
  await does('checkpoint', '--out', letter('plain.note'));
  expect((await audit('--checkpoint', letter('plain.note'))).stdout).toContain('every event is covered');
  // A plain note is not what the witness saw.
  expect(
    (await audit('--checkpoint', letter('plain.note'), '--witness', letter('harbour.pub'))).stdout,
  ).toContain(`\n${await size()} events are covered by no outside checkpoint\n`);
  const older = await askWitness('cosign', letter('first.request'));
  expect([older.code, older.stdout]).toEqual([3, '']);
  expect(older.stderr).toMatch(/you cosigned \d+ before: .* Keep both files/);
});

test('two witnesses of one checkpoint stand in one note', async () => {
  const { does, letter, issue, engrave, dir } = await keeper();
  const [one, two] = [await outsider('harbour', letter), await outsider('lighthouse', letter)];
  await issue(1);
  await engrave('01/90');
  await does('checkpoint', '--for-witness', '--out', letter('request'));
  await one.does('cosign', letter('request'), '--out', letter('one.note'));
  await two.does('cosign', letter('request'), '--out', letter('two.note'));
  for (const name of ['one', 'two'])
    await does(
      'checkpoint',
      '--cosigned',
      letter(`${name}.note`),
      '--witness',
      letter(name === 'one' ? 'harbour.pub' : 'lighthouse.pub'),
    );
  const note = readFileSync(path.join(dir, 'cosigned/3.checkpoint'), 'utf8');
  expect(note.match(/^\u2014 \S+/gm)).toEqual([
    '\u2014 burin/lantern-coast',
    '\u2014 burin-witness/harbour',
    '\u2014 burin-witness/lighthouse',
  ]);
  await does('certificate', 'nine-lights', '01/90', '--out', 'papers');
  const paper = path.join('papers', 'nine-lights-main-0001-1.json');
  const both = ['--witness', letter('harbour.pub'), letter('lighthouse.pub')];
  const said = await does('verify', paper, '--key', letter('maker.pub'), ...both);
  expect(said.match(/^Seen by .*$/gm)).toHaveLength(2);
});

describe('a keeper who sets the log back is found out', () => {
  async function setBack() {
    const at = await keeper();
    const witness = await outsider('harbour', at.letter);
    await at.issue(2);
    await at.does('backup', 'old.db');
    await at.issue(2);
    await at.does('checkpoint', '--for-witness', '--out', at.letter('true.request'));
    await witness.does('cosign', at.letter('true.request'), '--out', at.letter('true.note'));
    for (const end of ['', '-wal', '-shm']) rmSync(path.join(at.dir, `register.db${end}`), { force: true });
    renameSync(path.join(at.dir, 'old.db'), path.join(at.dir, 'register.db'));
    // Such a keeper takes away what shows it on the own machine.
    for (const name of readdirSync(at.keys))
      if (!name.endsWith('.pem')) rmSync(path.join(at.keys, name), { recursive: true });
    return { ...at, witness };
  }

  test('by the witness: shorter, or another history of the same size', async () => {
    const { ask, does, letter, issue, witness } = await setBack();
    await does('checkpoint', '--for-witness', '--out', letter('back.request'));
    const shorter = await witness.ask('cosign', letter('back.request'), '--out', letter('back.note'));
    expect([shorter.code, existsSync(letter('back.note'))]).toEqual([3, false]);
    expect(shorter.stderr).toMatch(
      /back\.request and .*lantern-coast\.seen: It is for 3 events, and you cosigned 5 before/,
    );
    await issue(2);
    await does('checkpoint', '--for-witness', '--out', letter('fork.request'));
    const fork = await witness.ask('cosign', letter('fork.request'));
    expect([fork.code, fork.stdout]).toEqual([3, '']);
    expect(fork.stderr).toMatch(/another root for 5 events .* Keep both files/);
    // The keeper's own command makes no proof of what is not so.
    const refused = await ask('checkpoint', '--for-witness', letter('true.note'));
    expect([refused.code, refused.stdout]).toEqual([3, '']);
    expect(
      (await ask('checkpoint', '--cosigned', letter('true.note'), '--witness', letter('harbour.pub'))).stderr,
    ).toMatch(/did not begin with the 5 events/);
    // And the true log goes on being known.
    expect(readFileSync(path.join(witness.folder, 'lantern-coast.seen'), 'utf8')).toBe(
      readFileSync(letter('true.note'), 'utf8'),
    );
  });

  test('by an audit with the cosigned note', async () => {
    const { ask, letter } = await setBack();
    const audited = await ask(
      'audit',
      '--key',
      letter('maker.pub'),
      '--checkpoint',
      letter('true.note'),
      '--witness',
      letter('harbour.pub'),
    );
    expect(audited.code).toBe(1);
    expect(audited.stdout).toMatch(/true\.note: It was signed for 5 events, and the register has 3/);
    expect(audited.stdout).toContain('\n3 events are covered by no outside checkpoint\n');
  });
});

test('a cosignature that was altered counts nowhere', async () => {
  const { ask, does, letter, issue } = await keeper();
  const witness = await outsider('harbour', letter);
  await issue(1);
  await does('checkpoint', '--for-witness', '--out', letter('request'));
  await witness.does('cosign', letter('request'), '--out', letter('note'));
  const text = readFileSync(letter('note'), 'utf8');
  const [head, line] = [text.slice(0, text.lastIndexOf('\u2014')), text.slice(text.lastIndexOf('\u2014'))];
  const bytes = Buffer.from(line.split(' ')[2]!, 'base64');
  bytes[11]! ^= 1;
  writeFileSync(letter('altered'), `${head}\u2014 burin-witness/harbour ${bytes.toString('base64')}\n`);
  const kept = await ask('checkpoint', '--cosigned', letter('altered'), '--witness', letter('harbour.pub'));
  expect([kept.code, kept.stdout]).toEqual([1, '']);
  expect(kept.stderr).toMatch(
    /altered: The cosignature of burin-witness\/harbour does not match its text and time/,
  );
  const audited = await ask('audit', '--checkpoint', letter('altered'), '--witness', letter('harbour.pub'));
  expect([audited.code, audited.stdout]).toEqual([1, expect.stringMatching(/altered: The cosignature of/)]);
});

test('a witness follows a change of key by the history, and by nothing else', async () => {
  const { does, letter, issue, keys } = await keeper();
  const witness = await outsider('harbour', letter);
  await issue(1);
  await does('checkpoint', '--for-witness', '--out', letter('request'));
  await witness.does('cosign', letter('request'), '--out', letter('note'));
  await does('key', 'retire', '--reason', 'planned');
  await does('key', 'new', '--out', letter('second.pub'));
  await issue(1);
  await does('checkpoint', '--for-witness', letter('note'), '--out', letter('next'));
  expect((await witness.ask('cosign', letter('next'))).stderr).toMatch(/not signed with this key/);
  expect((await witness.ask('add', letter('second.pub'))).code).toBe(3);
  await does('key', 'show', '--history', '--out', letter('maker.keys'));
  await witness.does('add', letter('maker.keys'));
  await witness.does('cosign', letter('next'), '--out', letter('next.note'));
  await does('checkpoint', '--cosigned', letter('next.note'), '--witness', letter('harbour.pub'));
  expect(existsSync(path.join(keys, 'lantern-coast.keys'))).toBe(true);
});

test.each([
  [['new'], /needs --name/],
  [['show', '--name', 'x'], /takes no --name/],
  [['cosign'], /needs a file/],
  [['show', 'x'], /takes no file/],
  [['show'], /There is no key of a witness/],
  [['add', 'maker.pub'], /There is no key of a witness/],
])('burin witness %j is refused where there is none', async (words, said) => {
  const refused = await burin(['witness', ...words], { cwd: newFolder(), env: { BURIN_KEYS: newFolder() } });
  expect([refused.code, refused.stdout]).toEqual([2, '']);
  expect(refused.stderr).toMatch(said);
});

test('a witness has one key, which is not written over, and takes no log it was not given', async () => {
  const { does, letter, issue } = await keeper();
  const witness = await outsider('harbour', letter);
  expect((await witness.ask('new', '--name', 'harbour')).code).toBe(3);
  expect(await witness.does('show')).toBe(readFileSync(letter('harbour.pub'), 'utf8'));
  await issue(1);
  await does('checkpoint', '--for-witness', '--out', letter('request'));
  rmSync(path.join(witness.folder, 'lantern-coast.maker'));
  expect((await witness.ask('cosign', letter('request'))).stderr).toMatch(/You do not witness this log/);
  await witness.does('add', letter('maker.pub'));
  expect((await witness.ask('cosign', letter('maker.pub'))).stderr).toMatch(
    /not what a keeper makes for a witness/,
  );
  writeFileSync(path.join(witness.folder, 'lantern-coast.seen'), 'never mind\n');
  expect((await witness.ask('cosign', letter('request'))).stderr).toMatch(
    /should hold the last note that you cosigned/,
  );
});

test.each([
  [['--cosigned', 'x']],
  [['--witness', 'x']],
  [['--cosigned', 'x', '--witness', 'y', '--for-witness']],
])('burin checkpoint %j: options that do not go together', async (words) => {
  const refused = await burin(['checkpoint', ...words], { cwd: newFolder() });
  expect([refused.code, refused.stderr]).toEqual([2, expect.stringMatching(/do not go together/)]);
});

/** What docs/keys.md tells a stranger to do by hand. */
const page = readFileSync(new URL('../../docs/keys.md', import.meta.url), 'utf8');
const byHand = [...page.matchAll(/```python\n(# By hand[\s\S]*?)```/g)].map((m) => m[1]!);
const isThere = (tool: string, ...words: string[]) => spawnSync(tool, words).status === 0;
const tools = isThere('openssl', 'version') && isThere('python3', '--version');

test.skipIf(!tools)(
  'a stranger checks a cosignature with OpenSSL and Python, as docs/keys.md says',
  async () => {
    expect(byHand).toHaveLength(1);
    const { does, letter, issue } = await keeper();
    const witness = await outsider('harbour', letter);
    await issue(2);
    await does('checkpoint', '--for-witness', '--out', letter('request'));
    await witness.does('cosign', letter('request'), '--out', letter('note'));
    const strange = newFolder();
    mkdirSync(strange, { recursive: true });
    copyFileSync(letter('note'), path.join(strange, 'note'));
    copyFileSync(letter('harbour.pub'), path.join(strange, 'witness.pub'));
    const run = () => {
      const said = spawnSync('python3', ['-c', byHand[0]!], { cwd: strange, encoding: 'utf8' });
      return `${said.status} ${said.stdout}${said.stderr}`;
    };
    expect(run()).toMatch(/^0 seen by burin-witness\/harbour at 20\d\d-\d\d-\d\d \d\d:\d\d:\d\d UTC\n$/);
    const note = readFileSync(letter('note'), 'utf8');
    writeFileSync(path.join(strange, 'note'), note.replace('\n3\n', '\n4\n'));
    expect(run()).toMatch(/^1 [\s\S]*the witness did not sign this/);
  },
);
