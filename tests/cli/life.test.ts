import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { burin, linesOf, well } from './burin.js';
import { cleanAfterAll, newQuickBench } from './folders.js';

cleanAfterAll();

const MOSS = ['--by', 'A. Moss'];

test('the life of one number shows corrections and retractions where they belong; buyers and texts are found', async () => {
  const cwd = newQuickBench();
  const does = async (command: string, ...words: string[]) =>
    linesOf(await well([command, 'nine-lights', ...words], { cwd }));
  const json = async (command: string, ...words: string[]) =>
    JSON.parse(await well(['--json', command, 'nine-lights', ...words], { cwd }));
  await does('issue', '--series', 'main', '--count', '4', ...MOSS);
  for (const event of ['engraved', 'inspected']) await does('record', '01/90..03/90', event, ...MOSS);
  await does('record', '01/90', 'delivered', '--to', 'R. Vaine', ...MOSS);
  const second = ['--witness', 'E. Marrow', ...MOSS];
  await does('correct', '01/90', '--to', 'R. Vane', '--why', 'misread', ...second);
  await does('record', '02/90', 'delivered', '--to', 'r vane', ...MOSS);
  await does('record', '02/90', 'returned', '--why', 'the clip is loose', ...MOSS);
  await does('retract', '02/90', '--why', 'that was 12/90 of another edition', ...second);
  await does('record', '02/90', 'returned', '--why', 'the clip is loose', ...MOSS);

  const life = await does('register', '02/90');
  expect(life.map((line) => line.replace(/\d{4}-\d\d-\d\d/g, 'DAY').replace(/\d\d:\d\d/, 'TIME'))).toEqual([
    '02/90: number 2 of series main, ticket NL-MAIN-0002-Z; engraved since DAY; cap engraved',
    ' 2  DAY TIME  issued for cap; by A. Moss: next free number',
    ' 6  DAY TIME  engraved; by A. Moss: the number was cut',
    ' 9  DAY TIME  inspected; by A. Moss: the number was read back from the piece',
    '13  DAY TIME  delivered to r vane; by A. Moss: the piece left the maker',
    '14  DAY TIME  returned; by A. Moss: the clip is loose [retracted by event 15]',
    '15  DAY TIME  retracted event 14 confirmed by E. Marrow; by A. Moss: that was 12/90 of another edition',
    '16  DAY TIME  returned; by A. Moss: the clip is loose',
  ]);
  const one = await json('register', '01/90');
  expect(one.number).toMatchObject({ label: '01/90', state: 'delivered' });
  expect(one.events.at(-2)).toMatchObject({ type: 'delivered', to: 'R. Vaine', correctedBy: [12] });
  expect(JSON.stringify(one)).not.toContain('salt');
  expect((await does('register', '40/90'))[0]).toMatch(/^40\/90: number 40 of series main, .*; planned$/);

  expect(await does('register', '--to', 'R.VANE')).toEqual([
    expect.stringMatching(/^01\/90 .*delivered/),
    '  event 12, current: R. Vane',
    expect.stringMatching(/^02\/90 .*engraved/),
    '  event 13, former: r vane',
  ]);
  expect((await json('register', '--to', 'R. Vaine')).numbers).toMatchObject([
    { label: '01/90', buyers: [{ to: 'R. Vaine', seq: 11, holds: 'entered in error' }] },
  ]);
  const csv = linesOf(await well(['register', 'nine-lights', '--to', 'r. vane', '--csv'], { cwd }));
  expect(csv.map((line) => line.split(',').slice(-3).join())).toEqual([
    ...['to,buyer,event', 'R. Vane,current,12', 'r vane,former,13'],
  ]);
  expect(await does('register', '--search', 'LOOSE clip')).toEqual([]);
  expect(await does('register', '--search', 'the  CLIP')).toEqual([
    expect.stringMatching(/^02\/90/),
    ...['  event 14, why: the clip is loose', '  event 16, why: the clip is loose'],
  ]);
  expect((await json('register', '--search', 'A.P.')).numbers).toHaveLength(9);
  expect(
    (await json('register', '--state', 'delivered')).numbers.map((n: { label: string }) => n.label),
  ).toEqual(['01/90']);
  const unknown = await burin(['register', 'nine-lights', '--state', 'sold'], { cwd });
  expect([unknown.code, unknown.stderr]).toEqual([
    2,
    expect.stringMatching(/The states are: planned, issued/),
  ]);
  expect((await burin(['register', 'nine-lights', '01/90', '--csv'], { cwd })).code).toBe(2);
});

test('a part is scrapped and made again without costing the other', async () => {
  const cwd = newQuickBench();
  // The barrel carries the number too.
  writeFileSync(
    path.join(cwd, 'designs/barrel-number.yaml'),
    `kind: design
version: 1
name: Number along the barrel
part: barrel
marks:
  - { id: number, kind: number, surface: taper, baseline: lengthwise, place: { z: [24, 54], angle: 0 }, font: burin-plain, size: 2, cutter: cone-40, depth: 0.1 }
`,
  );
  writeFileSync(
    path.join(cwd, 'editions/pair.yaml'),
    'kind: edition\nversion: 1\nname: Pair\ndesigns: [cap-number, barrel-number]\nseries:\n  - { id: main, title: Pair, to: 3 }\n',
  );
  const does = (...words: string[]) => well(words, { cwd });
  const record = (...words: string[]) => does('record', 'pair', ...words, ...MOSS);
  const cut = ['cut', 'pair', '--labels', '1', '--station', 'rotary-level'];
  const partsOf = async (...more: string[]): Promise<string[]> =>
    JSON.parse(await does('--json', ...cut, ...more)).pieces[0].programs;
  const refused = async (...more: string[]) => (await burin([...cut, ...more], { cwd })).stderr;
  await does('issue', 'pair', '--series', 'main', '--count', '1', ...MOSS);
  expect(await partsOf()).toEqual([expect.stringMatching(/cap/), expect.stringMatching(/barrel/)]);
  await record('1', 'scrapped', '--part', 'cap', '--why', 'the cutter slipped');
  // The barrel is still blank, and is cut while the cap is spoiled.
  expect(await partsOf()).toEqual([expect.stringMatching(/barrel/)]);
  expect(await refused('--parts', 'cap')).toMatch(/Part cap of 1 is scrapped, not blank/);
  expect(await refused('--parts', 'clip')).toMatch(/cuts nothing on clip.*cap, barrel/s);
  await record('1', 'engraved', '--part', 'barrel');
  expect(await refused()).toMatch(/1 is scrapped/);
  await record('1', 'destroyed', '--part', 'cap', '--witness', 'E. Marrow');
  await record('1', 'recut', '--part', 'cap');
  expect(await partsOf()).toEqual([expect.stringMatching(/cap/)]);
  await record('1', 'engraved', '--part', 'cap');
  expect(await record('1', 'inspected')).toMatch(/^1 is inspected: cap engraved \(2\); barrel engraved\n$/);
});

test('where a part carries no number, its cut after a spoiled one is asked about', async () => {
  const cwd = newQuickBench();
  const does = (...words: string[]) => well(words, { cwd });
  const cut = ['cut', 'nine-lights', '--labels', '01/90', '--station', 'rotary-level'];
  await does('issue', 'nine-lights', '--series', 'main', '--count', '1', ...MOSS);
  await does('record', 'nine-lights', '01/90', 'scrapped', '--why', 'the cutter slipped', ...MOSS);
  const programs = async (part: string) =>
    JSON.parse(await does('--json', ...cut, '--parts', part)).pieces[0].programs;
  for (const program of await programs('barrel')) expect(program).toMatch(/barrel/);
  await does('record', 'nine-lights', '01/90', 'destroyed', '--witness', 'E. Marrow', ...MOSS);
  await does('record', 'nine-lights', '01/90', 'recut', ...MOSS);
  const asked = await burin(cut, { cwd });
  expect([asked.code, asked.stderr]).toEqual([
    3,
    expect.stringMatching(/01\/90 had a part spoiled.*barrel.*--parts/),
  ]);
  expect(await programs('cap')).toEqual([expect.stringMatching(/cap/)]);
});
