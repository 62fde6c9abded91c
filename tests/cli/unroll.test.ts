import { expect, test } from 'vitest';
import { burin, linesOf, well } from './burin.js';
import { cleanAfterAll, newBench } from './folders.js';

cleanAfterAll();

const bench = newBench();
const unroll = (surface: string, input: string, ...more: string[]) =>
  burin(['unroll', surface === 'body' ? 'cap' : 'barrel', '--surface', surface, ...more], {
    cwd: bench,
    input,
  });

/** Figures of a number, leading noughts not counted. */
const figuresOf = (text: string): number =>
  text.replace(/e.*$/i, '').replace(/[-.]/g, '').replace(/^0+/, '').length;

const rowsOf = (stdout: string): number[][] => linesOf(stdout).map((l) => l.split(',').map(Number));

test('a cylinder: the sheet is the circumference, worked by hand', async () => {
  // The cap body is a cylinder 13.4 mm across from z 0: y = z, x = pi * 13.4 * angle / 360.
  const said = await unroll('body', '10,0\n20,90\n30,-45\n');
  expect(said.code).toBe(0);
  const quarter = (Math.PI * 13.4) / 4;
  const rows = rowsOf(said.stdout);
  for (const [i, [x, y]] of [
    [0, 10],
    [quarter, 20],
    [-quarter / 2, 30],
  ].entries()) {
    expect(rows[i]![0]).toBeCloseTo(x!, 10);
    expect(rows[i]![1]).toBeCloseTo(y!, 10);
  }
});

test('10,000 rows there and back: the same points, twelve figures at most', async () => {
  const points = Array.from(
    { length: 10_000 },
    (_, i) => [7.5 + (58.5 * i) / 10_000, (i * 77.7) % 360] as const,
  );
  const input = `z,angle\n${points.map((p) => p.join(',')).join('\n')}\n`;
  const there = await unroll('taper', input);
  const lines = linesOf(there.stdout);
  expect(lines).toHaveLength(10_001);
  expect(lines[0]).toBe('x,y');
  const figures = lines.slice(1).flatMap((l) => l.split(',').map(figuresOf));
  expect(Math.max(...figures)).toBe(12);
  const back = await unroll('taper', there.stdout, '--inverse');
  expect(linesOf(back.stdout)[0]).toBe('z,angle');
  const rows = rowsOf(back.stdout).slice(1);
  for (const [i, [z, angle]] of points.entries()) {
    expect(Math.abs(rows[i]![0]! - z)).toBeLessThan(1e-9);
    const turn = Math.abs(rows[i]![1]! - angle) % 360;
    expect(Math.min(turn, 360 - turn)).toBeLessThan(1e-7);
  }
});

test('headings, blank lines, the line ends and the mark a spreadsheet adds are taken', async () => {
  const plain = (await unroll('body', '10,0\n20,90\n')).stdout;
  expect((await unroll('body', '\ufeffZ, Angle\r\n10,0\r\n\r\n20 , 90\r\n')).stdout).toBe(`x,y\n${plain}`);
  const json = JSON.parse(
    await well(['unroll', 'cap', '--surface', 'body', '--json'], { cwd: bench, input: '10,0\n' }),
  );
  expect(json).toEqual({ ok: true, columns: ['x', 'y'], rows: [[0, 10]] });
  expect((await unroll('body', '')).stdout).toBe('');
});

test.each([
  ['20;10', 'is not z,angle. Give two numbers with a comma between.'],
  ['twenty,10', 'is not z,angle.'],
  ['20,NaN', 'is not z,angle.'],
  ['20,0x10', 'is not z,angle.'],
  ['20,1e308', 'is farther away than any surface reaches.'],
  ['900,1', 'lies past the tip of the cone.'],
])('a bad line is named: %s', async (bad, words) => {
  const said = await unroll('taper', `z,angle\n10,0\n${bad}\n`);
  expect({ code: said.code, stdout: said.stdout }).toEqual({ code: 2, stdout: '' });
  expect(linesOf(said.stderr)).toHaveLength(1);
  expect(said.stderr).toContain(`stdin:3: "${bad}" ${words}`);
});
