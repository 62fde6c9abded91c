import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readback } from '../../src/station/readback.js';
import { type ReadMove, readProgram } from '../../src/station/reader.js';
import { runOn, stationOf, tube } from '../station/lantern-coast.js';
import { interpret, LineError } from './rs274-interpreter.js';

/**
 * T. R. Kramer, F. M. Proctor, E. Messina, The NIST RS274/NGC Interpreter, version 3, NISTIR 6556, National Institute
 * of Standards and Technology, 2000. From memory; section numbers as remembered. The report's axes X, Y, Z stand here as
 * X, A, Z: a program of a rotary bench has no Y.
 */

const HEAD = ['edition', 'label', 'design', 'part', 'surface', 'cutter', 'set-up', 'documents']
  .map((key) => `(${key}: a)\n`)
  .join('');
const HEAD_LINES = 8;
const OPENING = ['G21 G90', 'G93', 'G0 Z5.0', 'G0 X0.0 A0.0', 'G0 Z0.5'];
/** A program with some lines in it, the first of which is line 14. */
const around = (...lines: string[]): string =>
  `${HEAD}${[...OPENING, ...lines, 'G0 Z5.0', 'M2'].join('\n')}\n`;
const FIRST = HEAD_LINES + OPENING.length + 1;

function movesIn(text: string): readonly ReadMove[] {
  const read = readProgram(text);
  if (!read.ok) throw new Error(read.problems.map(({ where, code }) => `${where}: ${code}`).join('\n'));
  return read.program.moves;
}
const movesOf = (...lines: string[]): readonly ReadMove[] => movesIn(around(...lines)).slice(3, -1);
const faultOf = (text: string): string | undefined => {
  const read = readProgram(text);
  return read.ok ? undefined : read.problems[0]!.where;
};

describe('the line, section 3.3', () => {
  test('blanks and tabs stand anywhere, letters are large or small: the example of the report', () => {
    // "g0x +0. 12 34y 7" is "g0 x+0.1234 y7".
    expect(movesOf('g0x +0. 12 34a 7.')).toMatchObject([{ kind: 'rapid', to: { x: 0.1234, a: 7 } }]);
    expect(movesOf('g0 x+0.1234 a7.0')).toMatchObject([{ kind: 'rapid', to: { x: 0.1234, a: 7 } }]);
    expect(faultOf(around('g0x +0. 12 34y 7.'))).toBe(`line ${FIRST}`);
  });
  test('blank lines, line numbers and comments are allowed, and do nothing', () => {
    const plain = movesOf('G1 X1.0 F2.0');
    for (const lines of [
      ['', 'G1 X1.0 F2.0', '   '],
      ['N0010 G1 X1.0 F2.0'],
      ['N99999 G1 X1.0 F2.0', 'N1'],
      ['G1 (this way) X1.0 F2.0 (and so on)'],
      ['(a line of its own)', 'G1X1.0F2.0'],
    ])
      expect(movesOf(...lines).map((move) => ({ ...move, line: 0 }))).toEqual(
        plain.map((move) => ({ ...move, line: 0 })),
      );
  });
  test('words stand in any order', () => {
    for (const line of ['F2.0 X1.0 A2.0 G1', 'A2.0 G1 F2.0 X1.0'])
      expect(movesOf(line)).toMatchObject([{ kind: 'feed', to: { x: 1, a: 2 }, f: 2 }]);
  });
  test.each<[string, number]>([
    ['2.0', 2],
    ['+2.0', 2],
    ['2.', 2],
    ['.5', 0.5],
    ['-.5', -0.5],
    ['-0.0', 0],
    ['0002.50', 2.5],
  ])('the number %s', (number, value) => {
    expect(movesOf(`G0 X${number}`)).toMatchObject([{ to: { x: value } }]);
  });
  test.each([
    'X1.0 X2.0',
    'X',
    'X.',
    'X+',
    'X1.2.3',
    'X--1.0',
    'X1.0-1.0',
    'X1.0E2',
    '1.0',
    'X1.0)',
    'X1.0 (a',
  ])('%s is no line', (words) => {
    const text = around(`G0 ${words}`);
    expect(faultOf(text)).toBe(`line ${FIRST}`);
    expect(() => interpret(text)).toThrow(LineError);
  });
  test('at most 256 characters', () => {
    const line = (n: number) => `G0 X1.0 (${'x'.repeat(n - 10)})`;
    expect(line(256)).toHaveLength(256);
    expect(movesOf(line(256))).toHaveLength(1);
    expect(faultOf(around(line(257)))).toBe(`line ${FIRST}`);
  });
  test('a percent sign marks both ends of a file, or none (3.1)', () => {
    const text = around('G0 X1.0');
    expect(movesIn(`%\n${text}%\n`)).toHaveLength(movesIn(text).length);
    expect(faultOf(`%\n${text}`)).toBeDefined();
  });
});

describe('words, tables 3, 5 and 6', () => {
  // What the report knows, and what a program here may not hold.
  const known = [
    2, 3, 10, 18, 19, 20, 28, 30, 38.2, 41, 42, 43, 53, 64, 81, 82, 83, 84, 85, 86, 87, 88, 89, 91, 92, 92.1,
    92.2, 92.3, 98, 99,
  ];
  test.each(known)('G%d is refused by its line', (g) => {
    expect(faultOf(around('G1 X1.0 F2.0', `G${g}`))).toBe(`line ${FIRST + 1}`);
  });
  test.each([4, 6, 30, 48, 49, 60])('M%d is refused by its line', (m) => {
    expect(faultOf(around('G1 X1.0 F2.0', `M${m}`))).toBe(`line ${FIRST + 1}`);
  });
  test.each([...'BCDEHIJKLOPQRSTUVWY'])('the letter %s is refused in a move', (letter) => {
    expect(faultOf(around(`G1 X1.0 ${letter}1.0 F2.0`))).toBe(`line ${FIRST}`);
  });
  test.each(['#3=15.0', 'G0 X#3', 'G0 X[1.0+1.0]', 'G0 Xacos[0.0]', '/G0 X1.0'])('%s is refused', (line) => {
    expect(faultOf(around(line))).toBe(`line ${FIRST}`);
  });
});

describe('modal groups, section 3.4 and table 4', () => {
  const groups: readonly (readonly string[])[] = [
    ['G93', 'G94'],
    ['G54', 'G55', 'G56', 'G57', 'G58', 'G59', 'G59.1', 'G59.2', 'G59.3'],
    ['G61', 'G61.1'],
    ['M0', 'M1', 'M2'],
    ['M3 S9000', 'M5'],
    ['M7', 'M8', 'M9'],
  ];
  const pairs = groups.flatMap((group) =>
    group.flatMap((a, k) => group.slice(k + 1).map((b) => [a, b] as const)),
  );
  test.each(pairs)('%s and %s do not stand on one line', (a, b) => {
    const text = `${HEAD}G21 G90\n${a} ${b}\nG0 Z5.0\nM2\n`;
    expect(faultOf(text)).toBe(`line ${HEAD_LINES + 2}`);
  });
  test('G0 and G1 do not stand on one line, and an axis stands with one of them', () => {
    expect(faultOf(around('G0 G1 X1.0 F2.0'))).toBe(`line ${FIRST}`);
    expect(faultOf(around('G1 F2.0'))).toBe(`line ${FIRST}`);
  });
  test('G4 asks for its P, and a P for its G4 (3.5.4)', () => {
    const withLine = (line: string) => `${HEAD}G21 G90\n${line}\nG93\nG0 Z5.0\nM2\n`;
    expect(faultOf(withLine('G4'))).toBe(`line ${HEAD_LINES + 2}`);
    expect(faultOf(withLine('P2.0'))).toBe(`line ${HEAD_LINES + 2}`);
    expect(faultOf(withLine('G4 P2.0'))).toBeUndefined();
  });
  test('M2 ends a program, and nothing comes after it (3.6.1)', () => {
    expect(faultOf(`${around('G0 X1.0')}G0 X2.0\n`)).toBeDefined();
  });
});

describe('feed, sections 2.1.2.5 and 3.5.19', () => {
  /** Minutes of the one cut of a program, as read-back takes it from its feed along a tube of radius 6 mm. */
  function minutes(mode: string, line: string): number {
    const text = around('G1 Z-0.1 F50.0', line).replace('G93', mode);
    const read = readProgram(text);
    if (!read.ok) throw new Error(read.problems.map(({ where, code }) => `${where}: ${code}`).join('\n'));
    const { surface, station } = runOn(tube, stationOf());
    const step = readback(read.program, surface, station).cuts[0]!.steps.at(-1)!;
    const along = Math.hypot(
      step.to.z - step.from.z,
      ((step.to.angle - step.from.angle) * Math.PI * 6) / 180,
    );
    expect(step.feed).toBeGreaterThan(0);
    const [move] = interpret(text).slice(-2);
    expect(along / step.feed).toBeCloseTo(move!.minutes!, 12);
    return along / step.feed;
  }
  test('inverse time: "if the F number is 2.0, the move should be completed in half a minute"', () => {
    expect(minutes('G93', 'G1 X3.0 F2.0')).toBeCloseTo(0.5, 12);
    expect(minutes('G93', 'G1 X3.0 A90.0 F2.0')).toBeCloseTo(0.5, 12);
    expect(minutes('G93', 'G1 A90.0 F0.25')).toBeCloseTo(4, 12);
  });
  test('per minute: along X and Z as if A stood still; A alone in degrees a minute', () => {
    expect(minutes('G94', 'G1 X3.0 F60.0')).toBeCloseTo(0.05, 12);
    expect(minutes('G94', 'G1 X3.0 A90.0 F60.0')).toBeCloseTo(0.05, 12);
    expect(minutes('G94', 'G1 A90.0 F360.0')).toBeCloseTo(0.25, 12);
  });
  test('in inverse time every cut says its F (3.5.19), which is above nought', () => {
    for (const line of ['G1 X2.0', 'G1 X2.0 F0.0', 'G1 X2.0 F-1.0']) {
      expect(faultOf(around('G1 X1.0 F2.0', line))).toBe(`line ${FIRST + 1}`);
      expect(() => interpret(around('G1 X1.0 F2.0', line))).toThrow(LineError);
    }
  });
});

/** A line of legal and half-legal pieces, as a person or a program may write it. */
const anyLine = fc
  .array(
    fc.oneof(
      {
        weight: 6,
        arbitrary: fc.constantFrom(
          'G1',
          'G0',
          'g1',
          'G01',
          'F2.0',
          'F30',
          'X1.5',
          'x-0.25',
          'A+90.',
          'a.5',
          'Z0.5',
          'Z-0.1',
        ),
      },
      {
        weight: 1,
        arbitrary: fc.constantFrom(
          '(so)',
          '(',
          ')',
          'N10',
          'X1',
          'Y1.0',
          'G2',
          'X',
          'M3',
          'S9000',
          'G94',
          'M2',
          '%',
          ';',
          'X1.0.0',
        ),
      },
    ),
    { minLength: 1, maxLength: 5 },
  )
  .chain((words) => fc.constantFrom(' ', '', '\t', '  ').map((between) => words.join(between)));

test('whatever lines stand in it: a program is refused, or has the end points and times of the rules', () => {
  let read = 0;
  fc.assert(
    fc.property(fc.array(anyLine, { maxLength: 3 }), (lines) => {
      const text = around(...lines);
      const found = readProgram(text);
      if (!found.ok) return;
      read++;
      const moves = interpret(text);
      expect(found.program.moves).toHaveLength(moves.length);
      found.program.moves.forEach((move, k) => {
        const other = moves[k]!;
        expect(move.line).toBe(other.line);
        expect(move.kind === 'rapid').toBe(other.rapid);
        expect([move.to.x ?? Number.NaN, move.to.a ?? Number.NaN, move.to.z]).toEqual(other.to);
        if (move.kind === 'feed') {
          const linear = Math.hypot(move.to.x - move.from.x, move.to.z - move.from.z);
          const turned = Math.abs(move.to.a - move.from.a);
          const minutes = move.mode === 'inverse-time' ? 1 / move.f : (linear || turned) / move.f;
          expect(minutes).toBeCloseTo(other.minutes!, 12);
        }
      });
    }),
    { numRuns: 20_000, seed: 6556 },
  );
  expect(read).toBeGreaterThan(1000);
});
