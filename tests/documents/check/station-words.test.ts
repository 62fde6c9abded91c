import { describe, expect, test } from 'vitest';
import { stationLineFaults } from '../../../src/documents/check/station-words.js';
import { station as stationSchema } from '../../../src/documents/schema/station.js';
import { frameProblems } from '../../../src/station/prove-frame.js';
import { cap, head, runOn, stationOf } from '../../station/lantern-coast.js';

const MANY_DIGITS = '1234567890123';
const WORDS = [
  ...['G4', 'G04', 'G17', 'G40', 'G43', 'G49', 'G61', 'G61.1', 'G64', 'G80', 'G92', 'G98'],
  ...['G54', 'G55', 'G56', 'G57', 'G58', 'G59', 'G54.1', 'G58.3', 'G59.1', 'G59.3', 'G59.4'],
  ...['M0', 'M1', 'M2', 'M3', 'M03', 'M4', 'M5', 'M6', 'M7', 'M8', 'M9', 'M30'],
  ...['P0', 'P1.5', 'S0', 'S100', 'S100.25', 'T1', 'T12', 'F100'],
  ...['P', 'S', 'T'].flatMap((letter) => [`${letter}${MANY_DIGITS}`, `${letter}1.1234567890123456`]),
];
const LINES = [...WORDS, ...WORDS.map((word) => `G4 ${word}`), ...WORDS.map((word) => `M3 ${word}`), 'S0 M3'];

/** What the schema allows, since the documents have no other. */
const isWritten = (line: string): boolean => stationSchema.shape.before.safeParse([line]).success;

describe('lines of a station that the document may hold are those that a program of no blocks reads back with', () => {
  for (const [name, rates] of [
    ['a cutter that turns', { speed: 9000 }],
    ['a cutter that is dragged', {}],
  ] as const)
    for (const [place, others] of [
      ['before', []],
      ['before', ['M3 S500']],
      ['after', []],
    ] as const)
      test(`${place} ${others.join()}, ${name}`, () => {
        const lines = LINES.filter(isWritten);
        expect(lines.length).toBeGreaterThan(60);
        const missed = lines.filter((line) => {
          const station = { ...stationOf(), before: [], after: [], [place]: [...others, line] };
          return (
            stationLineFaults(station).length === 0 &&
            frameProblems(runOn(cap, station, rates), head).length > 0
          );
        });
        expect(missed).toEqual([]);
      });

  test('the reader does refuse what the document check must find', () => {
    const station = { ...stationOf(), after: ['G54'] };
    expect(frameProblems(runOn(cap, station), head)).toMatchObject([
      { code: 'station.frame-refused', values: { why: { code: 'station.read-zero-shifted' } } },
    ]);
  });
});

const faultsOf = (before: string[], after: string[] = []) => stationLineFaults({ before, after });

test.each([
  [['M8 M7'], [], 'same-group', 'M7'],
  [['G54 G55'], [], 'same-group', 'G55'],
  [['G4 P999999999999999'], [], 'long-number', 'P999999999999999'],
  [['S99999999999999'], [], 'long-number', 'S99999999999999'],
  [['T123456789012345678'], [], 'long-number', 'T123456789012345678'],
  [['G4'], [], 'dwell-without-time', 'G4'],
  [['P2'], [], 'time-without-dwell', 'P2'],
  [['M3'], [], 'starts-without-speed', 'M3'],
  [['M3 S100', 'S0'], [], 'speed-taken-away', 'S0'],
  [['G54.1'], [], 'unknown', 'G54.1'],
  [[], ['G54'], 'shifts-zero-after', 'G54'],
  [[], ['G49'], 'shifts-zero-after', 'G49'],
  [[], ['G59.1'], 'shifts-zero-after', 'G59.1'],
  [[], ['M3 S100'], 'starts-spindle-after', 'M3'],
])('%j before, %j after: %s', (before, after, kind, word) => {
  const [fault, ...more] = faultsOf(before, after);
  expect(more).toEqual([]);
  expect(fault).toMatchObject({ kind, word, place: after.length > 0 ? 'after' : 'before' });
});

test('a number as long as a program may hold, and a spindle that is stopped before its speed is taken away', () => {
  expect(
    faultsOf(['G4 P999999999999.123456789012345', 'M3 S100', 'M5', 'S0', 'G54'], ['G40', 'M9', 'T1']),
  ).toEqual([]);
});
