import { existsSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { burin, linesOf, UNSIGNED, well } from './burin.js';
import { cleanAfterAll, edit, newQuickBench } from './folders.js';

cleanAfterAll();

const MOSS = ['--by', 'A. Moss'];

/** A bench whose keeper speaks in short: the words of a command, and the edition left out. */
function keeperOf(cwd: string) {
  const words = (command: string, ...more: string[]) => [command, 'nine-lights', ...more, ...MOSS];
  return {
    does: async (command: string, ...more: string[]) => linesOf(await well(words(command, ...more), { cwd })),
    asks: async (command: string, ...more: string[]) => {
      const { code, stdout, stderr } = await burin(words(command, ...more), { cwd });
      return { code, lines: linesOf(stdout), wrong: linesOf(stderr) };
    },
    json: async (command: string, ...more: string[]) =>
      JSON.parse(await well(['--json', ...words(command, ...more)], { cwd })),
  };
}

test('many numbers are recorded by labels, ranges that skip exclusions, or a list: all or none', async () => {
  const cwd = newQuickBench();
  edit(
    cwd,
    'editions/nine-lights.yaml',
    '    pad: 2\n',
    '    pad: 2\n    exclude: [{ numbers: [4], why: thought unlucky }]\n',
  );
  const { does, asks, json } = keeperOf(cwd);
  await does('issue', '--series', 'main', '--count', '8');
  expect(await does('record', '01/90', '03/90..06/90', '05/90', 'engraved')).toEqual([
    ...['01/90', '03/90', '05/90', '06/90'].map((label) => `${label} is engraved: cap engraved`),
  ]);
  const dry = await asks('record', '01/90..05/90', 'inspected', '--dry-run');
  expect(dry.code).toBe(3);
  expect(dry.wrong).toEqual([
    expect.stringMatching(/^label 02\/90: The piece is issued and cannot be inspected\./),
    expect.stringMatching(/^edition nine-lights: 1 of 4 events cannot be entered, so nothing was entered/),
  ]);
  expect(await does('record', '01/90', '03/90', 'inspected', '--dry-run')).toEqual([
    ...['01/90 would be inspected: cap engraved', '03/90 would be inspected: cap engraved'],
    'Nothing was entered.',
  ]);
  for (const [text, message] of [
    ['05/90..01/90', /runs backwards/],
    ['05/90..A.P. I/IX', /begins in series main and ends in series proofs/],
    ['01/90..04/90', /thought unlucky/],
    ['1/90..03/90', /Did you mean 01\/90/],
  ] as const) {
    const slip = await asks('record', text, 'inspected');
    expect([slip.code, slip.wrong[0]]).toEqual([2, expect.stringMatching(message)]);
  }
  expect((await asks('record', '01/90')).wrong[0]).toMatch(/"01\/90" is not an event/);
  expect((await asks('record', 'engraved')).wrong[0]).toMatch(/No number is named/);

  writeFileSync(
    path.join(cwd, 'week.csv'),
    'label,event,to,why\n01/90,inspected,,\n01/90,delivered,R. Vane,\n03/90,,,\n02/90,scrapped,,the cutter slipped\n',
  );
  const listed = await json('record', 'inspected', '--list', 'week.csv', '--key', 'week 9');
  expect(listed.numbers).toMatchObject([
    { label: '01/90', state: 'delivered' },
    { label: '03/90', state: 'inspected' },
    { label: '02/90', state: 'scrapped' },
  ]);
  const again = await json('record', 'inspected', '--list', 'week.csv', '--key', 'week 9');
  expect(again.numbers).toEqual(listed.numbers);

  writeFileSync(
    path.join(cwd, 'wrong.csv'),
    'label,event,why,on\n09/9O,engraved,,\n01/90,polished,,\n06/90,scrapped,,\n06/90,inspected,,2031-02-30\n',
  );
  const wrong = await asks('record', '--list', 'wrong.csv');
  expect([wrong.code, wrong.wrong]).toEqual([
    2,
    [
      expect.stringMatching(/^wrong\.csv: 4 of 4 rows cannot be entered, so nothing was entered\./),
      expect.stringMatching(/^wrong\.csv: row 2: .*09\/90 \(O and 0\)/),
      expect.stringMatching(/^wrong\.csv: row 3: "polished" is not an event/),
      expect.stringMatching(/^wrong\.csv: row 4: No reason is given for scrapped/),
      expect.stringMatching(/^wrong\.csv: row 5: There is no day 2031-02-30/),
    ],
  ]);
  // Whatever comes first, a wrong list ends alike; of very many rows some are named, and all counted.
  for (const rows of [
    '09/9O,engraved,',
    '09/90,engraved,2031-02-30',
    '09/90,engraved,2999-01-01',
    ',engraved,',
  ]) {
    writeFileSync(path.join(cwd, 'wrong.csv'), `label,event,on\n${`${rows}\n`.repeat(25)}`);
    const refused = await asks('record', '--list', 'wrong.csv', '--dry-run');
    expect([refused.code, refused.wrong.length, refused.wrong[0]]).toEqual([
      ...[2, 21],
      expect.stringMatching(/^wrong\.csv: 25 of 25 rows cannot be entered/),
    ]);
  }
  expect((await asks('record', '01/90', 'engraved', '--list', 'week.csv')).code).toBe(2);
});

test('a reason is asked for where a keeper would be asked', async () => {
  const cwd = newQuickBench();
  const { asks } = keeperOf(cwd);
  for (const event of ['withheld', 'scrapped', 'void', 'lost', 'stolen', 'noted']) {
    const asked = await asks('record', '01/90', event);
    expect([asked.code, asked.wrong[0]]).toEqual([
      2,
      expect.stringMatching(`No reason is given for ${event}`),
    ]);
  }
  for (const command of ['correct', 'retract'])
    expect((await asks(command, '01/90')).wrong[0]).toMatch(/--why/);
  expect((await asks('issue', '--labels', '12/90')).wrong[0]).toMatch(/No reason is given for choosing/);
  expect(existsSync(path.join(cwd, 'register.db'))).toBe(false);
});

test('chosen and reserved numbers are issued as such', async () => {
  const cwd = newQuickBench();
  const { does, asks, json } = keeperOf(cwd);
  await does('record', '12/90', 'withheld', '--why', 'reserved for the harbour museum');
  const chosen = await asks('issue', '--labels', '12/90', '20/90..22/90', '--why', 'asked for by name');
  expect([chosen.code, chosen.lines]).toEqual([0, ['12/90', '20/90', '21/90', '22/90']]);
  expect(chosen.wrong).toEqual([
    UNSIGNED.trimEnd(),
    '12/90 was withheld (reserved for the harbour museum) and is released.',
  ]);
  expect((await json('issue', '--series', 'main', '--count', '1')).issued).toMatchObject([
    { label: '01/90' },
  ]);
  const taken = await asks('issue', '--labels', '12/90', '13/90', '--why', 'asked for');
  expect([taken.code, taken.wrong]).toEqual([
    3,
    [expect.stringMatching(/^label 12\/90: .*cannot be issued twice/)],
  ]);
  for (const [words, message] of [
    [['--labels', '30/90', 'A.P. I/IX', '--why', 'a pair'], /several series: main, proofs/],
    [['--labels', '30/90', '--count', '1', '--why', 'x'], /A count and labels are both given/],
    [['--series', 'main'], /Neither a count nor a label/],
    [['--count', '1'], /No series is named/],
  ] as const) {
    const slip = await asks('issue', ...words);
    expect([slip.code, slip.wrong[0]]).toEqual([2, expect.stringMatching(message)]);
  }
});

test('a wrong buyer and a wrong day are corrected; once the piece had left, by two', async () => {
  const cwd = newQuickBench();
  const { does, asks, json } = keeperOf(cwd);
  await does('issue', '--series', 'main', '--count', '1');
  expect((await asks('correct', '01/90', '--to', 'R. Vane', '--why', 'misread')).wrong[0]).toMatch(
    /no delivery that could be corrected/,
  );
  for (const event of ['engraved', 'inspected']) await does('record', '01/90', event);
  for (const [day, message] of [
    ['2020-01-01', /2020-01-01 is before/],
    ['2999-01-01', /2999-01-01 is in the future/],
  ] as const)
    expect((await asks('correct', '01/90', '--on', day, '--why', 'misread')).wrong[0]).toMatch(message);
  await does('record', '01/90', 'delivered', '--to', 'R. Vaine');
  const order = ['correct', '01/90', '--to', 'R. Vane', '--why', 'misread on the slip'] as const;
  expect((await asks(...order)).wrong[0]).toMatch(/A second person must con/);
  expect((await asks(...order, '--witness', 'a.moss')).wrong[0]).toMatch(/cannot be its witness/);
  const dry = await does(...order, '--witness', 'E. Marrow', '--dry-run');
  expect(dry).toEqual([
    expect.stringMatching(/^01\/90, event 4, delivered: to R\. Vaine, on .* would become to R\. Vane, on /),
    'Nothing was entered.',
  ]);
  const done = await json(...order, '--witness', 'E. Marrow', '--key', 'c1');
  expect(done).toMatchObject({ corrects: 4, before: { to: 'R. Vaine' }, after: { to: 'R. Vane' } });
  // Asked again it is the same correction, and not one of the corrected event.
  expect((await json(...order, '--witness', 'E. Marrow', '--key', 'c1')).number).toEqual(done.number);
  expect((await burin(['audit'], { cwd })).code).toBe(0);
});

test('what says so already is not corrected, nor put in its own place', async () => {
  const cwd = newQuickBench();
  const { does, asks } = keeperOf(cwd);
  await does('issue', '--series', 'main', '--count', '1');
  for (const event of ['engraved', 'inspected']) await does('record', '01/90', event);
  await does('record', '01/90', 'delivered', '--to', 'Ann');
  const today = new Date().toISOString().slice(0, 10);
  const life = await well(['register', 'nine-lights', '01/90'], { cwd });
  const more = ['--why', 'asked again', '--witness', 'E. Marrow'] as const;
  for (const words of [
    ['correct', '01/90', '--to', 'Ann'],
    ['correct', '01/90', '--on', today],
    ['correct', '01/90', '--to', 'Ann', '--on', today],
    ['correct', '01/90', '--event', '2', '--on', today],
    ['retract', '01/90', '--instead', 'delivered'],
    ['retract', '01/90', '--instead', 'delivered', '--to', 'Ann', '--on', today],
  ] as const)
    for (const dry of [[], ['--dry-run']]) {
      const said = await asks(words[0], ...words.slice(1), ...more, ...dry);
      expect([words, said.code, said.wrong]).toEqual([
        words,
        3,
        [expect.stringMatching(/^label 01\/90: Event \d, (delivered|engraved), says so already/)],
      ]);
    }
  const itself = await asks('retract', '01/90', '--meant', '01/90', ...more);
  expect([itself.code, itself.wrong]).toEqual([
    3,
    [expect.stringMatching(/^label 01\/90: This is the number itself/)],
  ]);
  expect(await well(['register', 'nine-lights', '01/90'], { cwd })).toBe(life);
  // Held against what was corrected last, not against what was entered first.
  await does('correct', '01/90', '--to', 'Bea', ...more);
  expect((await asks('correct', '01/90', '--to', 'Bea', ...more)).code).toBe(3);
  await does('correct', '01/90', '--to', 'Ann', ...more);
});

test('an event that did not happen is taken back, and what did is recorded in its place', async () => {
  const cwd = newQuickBench();
  const { does, asks, json } = keeperOf(cwd);
  await does('issue', '--series', 'main', '--count', '3');
  await does('record', '01/90..02/90', 'engraved');
  // Wrong number: 03/90 was meant.
  expect(await does('retract', '02/90', '--meant', '03/90', '--why', 'wrong tray')).toEqual([
    '02/90, event 5, engraved: is retracted',
    '02/90 was engraved',
    '02/90 is issued: cap blank',
    '03/90 is engraved: cap engraved',
  ]);
  // Wrong event: it was spoiled, not inspected.
  await does('record', '01/90', 'inspected');
  const instead = ['retract', '01/90', '--instead', 'scrapped', '--why', 'the cutter slipped'] as const;
  expect((await does(...instead, '--dry-run')).at(-1)).toBe('Nothing was entered.');
  const done = await json(...instead, '--key', 'r1');
  expect(done).toMatchObject({
    ...{ event: 'inspected', before: { state: 'inspected' }, number: { state: 'engraved' } },
    instead: { event: 'scrapped', number: { label: '01/90', state: 'scrapped' } },
  });
  expect((await json(...instead, '--key', 'r1')).instead).toEqual(done.instead);
  // An issue is for good.
  const issue = await asks('retract', '02/90', '--why', 'not wanted');
  expect([issue.code, issue.wrong[0]]).toEqual([
    3,
    expect.stringMatching(/that cannot be retracted\. Record it void/),
  ]);
  // What is final takes two.
  await does('record', '02/90', 'void', '--why', 'not wanted');
  expect((await asks('retract', '02/90', '--why', 'wanted')).wrong[0]).toMatch(/A second person must con/);
  expect((await does('retract', '02/90', '--why', 'wanted', '--witness', 'E. Marrow')).at(-1)).toBe(
    '02/90 is issued: cap blank',
  );
  expect((await asks('retract', '40/90', '--why', 'x')).wrong[0]).toMatch(/no event that could be retracted/);
  expect((await asks('retract', '01/90..02/90', '--why', 'x')).wrong[0]).toMatch(/names several numbers/);
  expect((await burin(['audit'], { cwd })).code).toBe(0);
});
