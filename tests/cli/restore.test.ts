import { cpSync, existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { burin, well } from './burin.js';
import { cleanAfterAll, edit, hashes, newFolder, newQuickBench } from './folders.js';
import { labelsOf, putRegister, removeRegister } from './gate-ways.js';

cleanAfterAll();

const issue = (count: number) => [
  'issue',
  'nine-lights',
  '--series',
  'main',
  '--count',
  `${count}`,
  '--by',
  'A. Moss',
];
const ANSWER = ['--by', 'E. Marrow', '--why', 'the disk broke'];

/** What a bench had before its disk broke: eight numbers, a backup after three, and papers. */
interface Lost {
  readonly place: string;
  readonly keys: string;
  readonly backup: string;
  readonly whole: string;
  readonly papers: readonly string[];
}
let lost: Lost;

beforeAll(async () => {
  const place = newFolder();
  const keys = path.join(place, 'keys');
  const dir = newQuickBench(path.join(place, 'bench'));
  const around = { cwd: dir, env: { BURIN_KEYS: keys } };
  const does = (...words: string[]) => well(words, around);
  await does('key', 'new', '--out', path.join(place, 'maker.pub'));
  await does(...issue(3));
  await does('record', 'nine-lights', '01/90', 'engraved', '--by', 'A. Moss');
  await does('backup', path.join(place, 'old.db'));
  await does('export', '--jsonl', '--out', path.join(place, 'old.jsonl'));
  await does(...issue(2));
  await does(...issue(2));
  // The run sheet lists 04/90, which a certificate accounts for.
  const cut = ['cut', 'nine-lights', '--labels', '03/90', '04/90', '06/90', '--station', 'rotary-level'];
  await does(...cut, '--out', path.join(place, 'cut'));
  for (const event of ['engraved', 'inspected']) {
    await does('record', 'nine-lights', '02/90', event, '--by', 'A. Moss');
    await does('record', 'nine-lights', '04/90', event, '--by', 'A. Moss');
  }
  await does('certificate', 'nine-lights', '02/90', '04/90', '--out', path.join(place, 'papers'));
  await does('export', '--jsonl', '--out', path.join(place, 'whole.jsonl'));
  await does(...issue(1));
  await does('checkpoint', '--out', path.join(place, 'newest.checkpoint'));
  await does('export', '--jsonl', '--out', path.join(place, 'newest.jsonl'));
  const sheet = readdirSync(path.join(place, 'cut'), { recursive: true })
    .map(String)
    .find((f) => f.endsWith('.html'))!;
  cpSync(path.join(place, 'cut', sheet), path.join(place, 'run-sheet.html'));
  const papers = [
    'papers/nine-lights-main-0002-1.json',
    'papers/nine-lights-main-0004-1.json',
    'run-sheet.html',
    'newest.checkpoint',
  ];
  lost = {
    ...{ place, keys, backup: path.join(place, 'old.db'), whole: path.join(place, 'whole.jsonl') },
    papers: papers.map((file) => path.join(place, file)),
  };
}, 120_000);

/** A machine after the loss: with the memory and the key of before, or a new one. */
function machine({ register, knows }: { register: 'backup' | 'none'; knows: boolean }) {
  const place = newFolder();
  const dir = path.join(place, 'bench');
  cpSync(path.join(lost.place, 'bench'), dir, { recursive: true });
  removeRegister(dir);
  if (register === 'backup') putRegister(lost.backup, dir);
  const keys = path.join(place, 'keys');
  if (knows) cpSync(lost.keys, keys, { recursive: true });
  else rmSync(path.join(dir, 'workshop.id'), { force: true });
  const around = { cwd: dir, env: { BURIN_KEYS: keys } };
  const key = ['--key', path.join(lost.place, 'maker.pub')];
  return {
    ...{ dir, keys },
    ask: (...words: string[]) => burin(words, around),
    does: (...words: string[]) => well(words, around),
    restore: (papers: readonly string[], ...more: string[]) =>
      burin(['restore', ...papers, ...key, ...more], around),
    states: async () => {
      const { numbers } = JSON.parse(await well(['register', 'nine-lights', '--json'], around)) as {
        numbers: { label: string; state: string }[];
      };
      return Object.fromEntries(
        numbers.filter(({ state }) => state !== 'planned').map(({ label, state }) => [label, state]),
      );
    },
  };
}

const TAKEN = {
  ...{ '01/90': 'engraved', '02/90': 'inspected', '03/90': 'withheld' },
  ...{ '04/90': 'inspected', '06/90': 'withheld' },
};

describe.each([{ knows: true }, { knows: false }])(
  'after a loss, where the machine remembers: $knows',
  ({ knows }) => {
    test('nothing is issued before somebody answers; then what papers prove is taken', async () => {
      const { ask, does, restore, states, dir } = machine({ register: 'backup', knows });
      const before = await states();
      const unanswered = await restore(lost.papers, '--json');
      expect(unanswered.code).toBe(3);
      expect(JSON.parse(unanswered.stdout)).toMatchObject({
        ok: false,
        problems: [{ code: 'restore.nobody-answers' }],
      });
      expect(await states()).toEqual(before);
      for (const words of [issue(1), [...issue(1), '--json']]) expect((await ask(...words)).code).toBe(3);

      const files = hashes(dir);
      const dry = await restore(lost.papers, ...ANSWER, '--dry-run');
      expect([dry.code, labelsOf(dry.stdout)]).toEqual([0, ['02/90', '03/90', '04/90', '06/90']]);
      expect(hashes(dir)).toEqual(files);
      expect((await ask(...issue(1))).code).toBe(3);

      const done = await restore(lost.papers, ...ANSWER);
      expect(done).toMatchObject({ code: 0, stderr: '' });
      expect(done.stdout).toMatch(/^Nobody accounts for [1-9]\d* events\.$/m);
      expect(await states()).toMatchObject(TAKEN);
      // 05, 07 and 08 are lost to all papers; none that a paper proves goes out again.
      expect(labelsOf(await does(...issue(3)))).toEqual(['05/90', '07/90', '08/90']);
      const table = await does('export', '--csv', '--out', 'all.csv').then(() =>
        readFileSync(path.join(dir, 'all.csv'), 'utf8'),
      );
      expect(table).toMatch(/noted.*E\. Marrow.*goes on after a loss with \d+ of \d+ events.*the disk broke/);
      expect((await ask('audit')).code).toBe(0);
      // The same papers once more bring nothing.
      const again = await restore(lost.papers, ...ANSWER, '--json');
      expect(JSON.parse(again.stdout)).toMatchObject({ recovered: [] });
    });

    test('with nothing left at all, papers alone', async () => {
      const { does, restore, states } = machine({ register: 'none', knows });
      const done = await restore(lost.papers, ...ANSWER);
      expect(done).toMatchObject({ code: 0, stderr: '' });
      expect(await states()).toMatchObject({
        '02/90': 'inspected',
        '04/90': 'inspected',
        '03/90': 'withheld',
        '06/90': 'withheld',
      });
      expect(labelsOf(await does(...issue(2)))).toEqual(['01/90', '05/90']);
    });

    test('an export goes on from an older one, and papers from there', async () => {
      const { does, restore, states } = machine({ register: 'none', knows });
      const old = path.join(lost.place, 'old.jsonl');
      const done = await restore([old, ...lost.papers, lost.whole], ...ANSWER, '--json');
      expect(done.code).toBe(0);
      expect(JSON.parse(done.stdout)).toMatchObject({ missing: 1, twice: [] });
      expect(await states()).toMatchObject({ ...TAKEN, '05/90': 'issued', '07/90': 'issued' });
      expect(labelsOf(await does(...issue(1)))).toEqual(['08/90']);
    });
  },
);

test('in whatever order papers come, together or one after another, the same numbers are taken', async () => {
  const papers = fc.shuffledSubarray([...Array(4).keys()], { minLength: 4, maxLength: 4 });
  await fc.assert(
    fc.asyncProperty(papers, fc.integer({ min: 0, max: 7 }), fc.boolean(), async (order, cuts, knows) => {
      const { restore, states } = machine({ register: 'backup', knows });
      let batch: string[] = [];
      for (const [i, k] of order.entries()) {
        batch.push(lost.papers[k]!);
        if (i < 3 && (cuts & (1 << i)) === 0) continue;
        expect(await restore(batch, ...ANSWER)).toMatchObject({ code: 0 });
        batch = [];
      }
      expect(await states()).toEqual(TAKEN);
    }),
    { numRuns: 8 },
  );
}, 180_000);

test('a forged, an altered and a foreign paper are refused by name, and nothing is entered', async () => {
  const { restore, states, does, dir } = machine({ register: 'backup', knows: true });
  const before = await states();
  const altered = path.join(dir, 'altered.json');
  writeFileSync(altered, readFileSync(lost.papers[0]!, 'utf8').replace('A. Moss', 'A. Mess'));
  const note = path.join(dir, 'altered.checkpoint');
  writeFileSync(note, readFileSync(lost.papers[3]!, 'utf8').replace(/^\d+$/m, '999'));
  const said = await restore([...lost.papers, altered, note], ...ANSWER);
  expect(said.code).not.toBe(0);
  expect(said.stderr).toMatch(/altered\.json/);
  expect(said.stderr).toMatch(/altered\.checkpoint/);
  await does('key', 'new', '--name', 'Salt Lamp', '--out', 'other.pub');
  const foreign = await burin(['restore', lost.papers[0]!, '--key', path.join(dir, 'other.pub'), ...ANSWER], {
    cwd: dir,
  });
  expect(foreign.code).not.toBe(0);
  expect(foreign.stderr).toMatch(/main-0002-1\.json/);
  const list = path.join(dir, 'list.txt');
  writeFileSync(list, '05/90\n');
  expect((await restore([list], ...ANSWER)).stderr).toMatch(/list\.txt: It is not an exported register/);
  expect(await states()).toEqual(before);
});

test('terms that were amended since the copy are amended again, before the numbers come back', async () => {
  const { restore, states, dir, does } = machine({ register: 'backup', knows: true });
  edit(dir, 'workshop.yaml', 'name: Lantern Coast', 'name: Lantern Coast & Daughters');
  edit(dir, 'editions/nine-lights.yaml', 'name: Nine Lights', 'name: Nine Lights Again');
  const done = await restore(
    lost.papers.filter((file) => !file.endsWith('.html')),
    ...ANSWER,
  );
  expect(done).toMatchObject({ code: 0, stderr: '' });
  expect(await states()).toMatchObject({ '02/90': 'inspected', '04/90': 'inspected' });
  await does('export', '--jsonl', '--out', 'all.jsonl');
  const types = readFileSync(path.join(dir, 'all.jsonl'), 'utf8').match(/\\"type\\":\\"\w+/g)!;
  expect(types.filter((type) => type.endsWith('amended'))).toHaveLength(1);
  expect(types.slice(5).map((type) => type.replace(/.*"/, ''))[0]).toBe('amended');
});

test('the key whose log ended signs nothing more; a new one signs the register as it goes on', async () => {
  const { restore, does, keys } = machine({ register: 'backup', knows: true });
  const done = await restore(lost.papers, ...ANSWER);
  expect(done.stdout).toMatch(/The log of the key ends here/);
  expect(existsSync(path.join(keys, 'lantern-coast.pem'))).toBe(false);
  expect(readdirSync(keys).filter((f) => /ended-at-\d+-\w+\.(pem|last)$/.test(f))).toHaveLength(2);
  await does('key', 'new');
  await does(...issue(1));
  await does('checkpoint');
});

test('an export that lacks what the key signed is refused; the newest comes back without anybody answering', async () => {
  const { restore, ask, does, dir } = machine({ register: 'none', knows: true });
  for (const more of [[], ['--json'], ['--by', 'x']])
    expect((await restore([lost.whole], ...more)).code).toBe(3);
  expect(existsSync(path.join(dir, 'register.db'))).toBe(false);
  expect((await ask(...issue(1))).code).toBe(3);
  const newest = path.join(lost.place, 'newest.jsonl');
  expect(
    await restore([
      newest,
      path.join(lost.place, 'old.jsonl'),
      ...lost.papers.filter((file) => !file.endsWith('.html')),
    ]),
  ).toMatchObject({
    code: 0,
    stderr: '',
  });
  expect(labelsOf(await does(...issue(1)))).toEqual(['09/90']);
  expect((await ask('audit')).code).toBe(0);
});

test('events that certificates hold without a gap come back word for word, and the key goes on', async () => {
  const place = newFolder();
  const dir = newQuickBench(path.join(place, 'bench'));
  const around = { cwd: dir, env: { BURIN_KEYS: path.join(place, 'keys') } };
  const does = (...words: string[]) => well(words, around);
  await does('key', 'new');
  await does(...issue(1));
  await does('backup', '../old.db');
  await does(...issue(1));
  await does('record', 'nine-lights', '02/90', 'engraved', '--by', 'A. Moss');
  await does('certificate', 'nine-lights', '02/90', '--out', '../papers');
  putRegister(path.join(place, 'old.db'), dir);
  expect((await burin(issue(1), around)).code).toBe(3);
  const said = await burin(['restore', '../papers/nine-lights-main-0002-1.json', '--json'], around);
  const answer = JSON.parse(said.stdout);
  // The entry of the certificate itself is on no paper; only that it was made.
  expect([said.code, answer.problems[0].values]).toMatchObject([
    3,
    { size: 4, claimed: 5, missing: 1, numbers: 1 },
  ]);
  const done = await burin(
    ['restore', '../papers/nine-lights-main-0002-1.json', ...ANSWER, '--json'],
    around,
  );
  const recovered = [{ label: '02/90', events: ['certified'] }];
  expect(JSON.parse(done.stdout)).toMatchObject({ ok: true, restored: 2, recovered, missing: 1 });
  expect(labelsOf(await does(...issue(1)))).toEqual(['03/90']);
  // The first was given away, and what is missing may have been the entry of a second.
  await does('key', 'new');
  const again = await does('certificate', 'nine-lights', '02/90', '--out', '../more', '--json');
  expect(JSON.parse(again).certificates).toMatchObject([{ label: '02/90', serial: 3 }]);
  expect((await burin(['audit'], around)).code).toBe(0);
});

test('a number that went out again meanwhile is named, and held back', async () => {
  const { restore, does, states } = machine({ register: 'backup', knows: false });
  // A new machine knows nothing: 04/90 goes out before the papers are found.
  expect(labelsOf(await does(...issue(1)))).toEqual(['04/90']);
  const said = await restore(lost.papers, ...ANSWER, '--json');
  expect(said.code).toBe(1);
  expect(JSON.parse(said.stdout)).toMatchObject({ ok: false, twice: [{ label: '04/90' }] });
  expect(await states()).toMatchObject({ ...TAKEN, '04/90': 'withheld' });
});

test('where nothing is missing, that is said and nothing is entered, whoever answers', async () => {
  const place = newFolder();
  const dir = newQuickBench(path.join(place, 'bench'));
  const around = { cwd: dir, env: { BURIN_KEYS: path.join(place, 'keys') } };
  const does = (...words: string[]) => well(words, around);
  await does('key', 'new');
  await does(...issue(2));
  await does('export', '--jsonl', '--out', '../older.jsonl');
  await does(...issue(1));
  await does('record', 'nine-lights', '02/90', 'engraved', '--by', 'A. Moss');
  await does('certificate', 'nine-lights', '02/90', '--out', '../papers');
  await does('export', '--jsonl', '--out', '../same.jsonl');
  const events = await does('export', '--csv');
  for (const papers of [
    ['../same.jsonl'],
    ['../older.jsonl'],
    ['../same.jsonl', '../older.jsonl', '../papers/nine-lights-main-0002-1.json'],
    [],
  ])
    for (const more of [[], ANSWER, ['--dry-run']]) {
      const said = await burin(['restore', ...papers, ...more], around);
      expect(said).toEqual({
        code: 0,
        stderr: '',
        stdout:
          'Nothing is missing: the register has 6 events, and all that is known of. Nothing was entered.\n',
      });
    }
  expect(await does('export', '--csv')).toBe(events);
});
