import { appendFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect } from 'vitest';
import { burin, linesOf } from './burin.js';
import { edit, newFolder, newQuickBench } from './folders.js';

/** Numbers that look like chance and are the same for the same seed: a linear congruence (from memory, Numerical Recipes). */
function chance(seed: number): (below: number) => number {
  let state = seed >>> 0;
  return (below) => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return Math.floor((state / 2 ** 32) * below);
  };
}

const MOSS = ['--by', 'A. Moss'];
const SECOND = ['--witness', 'E. Marrow'];

/** A step of the year: the words of a command, and what it must come to. */
interface YearStep {
  readonly words: readonly string[];
  readonly refused?: RegExp;
}

/**
 * A year of a keeper, through the commands: each number is issued and lives on, with one of the slips that keepers make at
 * each turn. Every step ends as a keeper expects, or is refused with what happened and what to do. Gives the lines of the
 * register at the end.
 */
export async function keepersYear(seed: number, numbers: number): Promise<string[]> {
  const cwd = newQuickBench();
  const env = { BURIN_KEYS: path.join(newFolder(), 'keys') };
  const width = String(numbers).length;
  edit(
    cwd,
    'editions/nine-lights.yaml',
    '    to: 90\n    pad: 2\n',
    `    to: ${numbers}\n    pad: ${width}\n`,
  );
  const label = (n: number) => `${String(n).padStart(width, '0')}/${numbers}`;
  const below = chance(seed);
  const run = async ({ words, refused }: YearStep) => {
    const [command, ...rest] = words;
    const said = await burin([command!, 'nine-lights', ...rest], { cwd, env });
    const told = `seed ${seed}: burin ${words.join(' ')}\n${said.stdout}${said.stderr}`;
    expect(said.code, told).toBe(refused ? 3 : 0);
    if (!refused) return;
    expect(said.stderr, told).toMatch(refused);
    // What happened, and what to do.
    for (const line of linesOf(said.stderr)) expect(line, told).toMatch(/^[^:]+: .*\. .*\.$/);
  };
  await burin(['key', 'new'], { cwd, env });

  const record = (of: string, event: string, ...more: string[]): YearStep => ({
    words: ['record', of, event, ...more, ...MOSS],
  });
  const spoil = ['--why', 'the cutter slipped'];
  const refusedRecord = (refused: RegExp, of: string, event: string, ...more: string[]): YearStep => ({
    ...{ ...record(of, event, ...more), refused },
  });
  const made = (of: string) => [record(of, 'engraved'), record(of, 'inspected')];
  const delivered = (of: string) => [...made(of), record(of, 'delivered', '--to', 'R. Vaine')];
  const again = (of: string) => [
    record(of, 'scrapped', ...spoil),
    refusedRecord(/cannot be its witness/, of, 'destroyed', '--witness', 'a.moss'),
    record(of, 'destroyed', ...SECOND),
    record(of, 'recut'),
  ];
  const retract = (of: string, ...more: string[]): YearStep => ({
    words: ['retract', of, '--why', 'wrongly entered', ...more, ...MOSS],
  });
  const correct = (of: string, ...more: string[]): YearStep => ({
    words: ['correct', of, '--why', 'misread', ...more, ...MOSS],
  });
  const twice = ({ words }: YearStep): YearStep[] => [
    { words: [...words, '--key', `key ${words.join(' ')}`] },
    { words: [...words, '--key', `key ${words.join(' ')}`] },
  ];

  /** Every slip, each as steps of one issued number, with the state that it ends in. */
  const SLIPS: readonly ((of: string) => readonly [end: string, ...steps: YearStep[]])[] = [
    (of) => ['delivered', ...delivered(of)],
    (of) => ['delivered', ...delivered(of), ...twice(correct(of, '--to', 'R. Vane', ...SECOND))],
    (of) => [
      'delivered',
      ...delivered(of),
      { ...correct(of, '--to', 'R. Vane'), refused: /second person/ },
      correct(of, '--on', `${today()}T00:00:00.000Z`, ...SECOND),
    ],
    (of) => ['engraved', ...made(of), retract(of)],
    (of) => ['scrapped', record(of, 'engraved'), ...twice(retract(of, '--instead', 'scrapped'))],
    (of) => ['inspected', ...delivered(of), retract(of, ...SECOND)],
    (of) => [
      'delivered',
      ...delivered(of),
      record(of, 'returned', '--why', 'the clip is loose'),
      record(of, 'inspected'),
      record(of, 'delivered', '--to', 'R. Vane'),
    ],
    (of) => ['engraved', ...delivered(of), record(of, 'returned')],
    (of) => [
      'inspected',
      ...made(of),
      record(of, 'lost', '--why', 'not on the shelf'),
      refusedRecord(/is lost/, of, 'delivered'),
      record(of, 'found'),
    ],
    (of) => ['stolen', ...made(of), record(of, 'stolen', '--why', 'the shop was broken into')],
    (of) => ['lost', ...delivered(of), record(of, 'lost', '--why', 'its owner says so')],
    (of) => ['inspected', ...again(of), ...made(of)],
    (of) => ['delivered', ...delivered(of), ...again(of), ...delivered(of)],
    (of) => [
      'destroyed',
      record(of, 'engraved'),
      ...again(of).slice(0, 3),
      refusedRecord(/is destroyed/, of, 'engraved'),
    ],
    (of) => [
      'void',
      record(of, 'void', '--why', 'a flaw in the resin'),
      refusedRecord(/is void/, of, 'engraved'),
      record(of, 'noted', '--why', 'its blank went to the archive'),
    ],
    (of) => [
      'issued',
      record(of, 'void', '--why', 'wrong tray'),
      { ...retract(of), refused: /second person/ },
      retract(of, ...SECOND),
    ],
    (of) => [
      'withheld',
      ...made(of),
      record(of, 'withheld', '--why', 'kept for the archive'),
      refusedRecord(/withheld/, of, 'delivered'),
    ],
    (of) => ['inspected', ...made(of), record(of, 'withheld', '--why', 'kept'), record(of, 'released')],
    (of) => ['issued', { ...retract(of), refused: /cannot be retracted/ }],
    (of) => [
      'engraved',
      record(of, 'engraved'),
      refusedRecord(/engraved/, of, 'engraved'),
      refusedRecord(/2020-01-01/, of, 'inspected', '--on', '2020-01-01'),
    ],
  ];

  const ends = new Map<string, string>();
  const lives: YearStep[][] = [];
  // The first of each dozen is reserved, and later issued as reserved; the others are issued in their order.
  let first = 1;
  while (first <= numbers) {
    const last = Math.min(first + 11, numbers);
    const reserved = label(first);
    await run(record(reserved, 'withheld', '--why', 'reserved for the harbour museum'));
    if (last > first)
      await run({ words: ['issue', '--series', 'main', '--count', String(last - first), ...MOSS] });
    await run({ words: ['issue', '--labels', reserved, '--why', 'as reserved', ...MOSS] });
    for (let n = first; n <= last; n++) {
      const [end, ...steps] = SLIPS[(n - 1) % SLIPS.length]!(label(n));
      ends.set(label(n), end);
      lives.push(steps);
    }
    first = last + 1;
  }
  // The lives go on beside each other, a step here and a step there.
  while (lives.length > 0) {
    const at = below(Math.min(lives.length, 24));
    const next = lives[at]!.shift();
    if (next) await run(next);
    else lives.splice(at, 1);
  }
  // Many at once: a list of remarks, and a wrong number in a range, of which nothing is entered.
  writeFileSync(path.join(cwd, 'remarks.csv'), 'label,event,why\n');
  for (const of of ends.keys())
    appendFileSync(path.join(cwd, 'remarks.csv'), `${of},noted,counted at the end of the year\n`);
  await run({ words: ['record', '--list', 'remarks.csv', ...MOSS] });
  await run(refusedRecord(/nothing was entered/, `${label(1)}..${label(numbers)}`, 'engraved'));

  const listed = JSON.parse((await burin(['--json', 'register', 'nine-lights'], { cwd, env })).stdout);
  const states = listed.numbers
    .filter(({ series }: { series: string }) => series === 'main')
    .map((one: { label: string; state: string }) => `${one.label} ${one.state}`);
  expect(states).toEqual([...ends].map(([of, end]) => `${of} ${end}`));
  const audit = await burin(['audit'], { cwd, env });
  expect([audit.code, linesOf(audit.stdout).at(-1)], audit.stdout).toEqual([0, 'No fault was found.']);
  await run({ words: ['close', '--by', 'E. Marrow'], refused: /--leave-open/ });
  await run({ words: ['close', '--by', 'E. Marrow', '--leave-open'] });
  const after = await burin(['audit'], { cwd, env });
  expect(after.code, after.stdout).toBe(0);
  return states;
}

const today = (): string => new Date().toISOString().slice(0, 10);
