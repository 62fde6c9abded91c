import { describe, expect, test } from 'vitest';
import { writeProgram } from '../../src/station/program.js';
import {
  blockOf,
  cap,
  figure,
  head,
  lineOf,
  prepared,
  runOn,
  stationOf,
  tube,
} from '../station/lantern-coast.js';
import type { Pair } from '../station/plain-frame.js';

/**
 * T. R. Kramer, F. M. Proctor, E. Messina, The NIST RS274/NGC Interpreter, version 3, NISTIR 6556, National Institute
 * of Standards and Technology, 2000. From memory; section numbers as remembered.
 */

const program = (feed: 'inverse-time' | 'per-minute') => {
  const run = runOn(cap, stationOf({ feed }), { speed: 8000 });
  const long = { ...head, edition: 'Nine Lights '.repeat(60), label: '(12/90)' };
  return writeProgram(run, long, [prepared(run, blockOf(figure, { name: '(9)' }))])
    .text.split('\n')
    .slice(0, -1);
};

describe('the line, section 3.3', () => {
  test.each(['inverse-time', 'per-minute'] as const)('%s: at most 256 characters', (feed) => {
    for (const line of program(feed)) expect(line.length).toBeLessThanOrEqual(256);
  });
  test('comments are in parentheses and never nested (3.3.4)', () => {
    for (const line of program('inverse-time')) {
      if (/[()]/.test(line)) expect(line).toMatch(/^\([^()]+\)$/);
    }
  });
  test('no comment is an active one: none begins with MSG, (3.3.4)', () => {
    for (const line of program('inverse-time')) expect(line).not.toMatch(/^\(\s*MSG,/i);
  });
  test('a number is digits with at most a sign and a point, no exponent (3.3.2.1); one of each axis and F a line', () => {
    for (const line of program('per-minute').filter((one) => !one.startsWith('('))) {
      const words = line.split(' ');
      for (const word of words) expect(word).toMatch(/^[A-Z][+-]?(\d+\.?\d*|\.\d+)$/);
      const letters = words.map((word) => word[0]!).filter((letter) => letter !== 'G');
      expect(new Set(letters).size).toBe(letters.length);
    }
  });
  test('M2 ends it, and there is no percent sign to pair (3.1, 3.6.1)', () => {
    expect(program('inverse-time').at(-1)).toBe('M2');
    expect(program('inverse-time').join('')).not.toContain('%');
  });
});

/** The F of the one cutting move of a straight line on a tube of radius 6 mm at 120 mm/min. */
function cutF(feed: 'inverse-time' | 'per-minute', to: Pair): number {
  const run = runOn(tube, stationOf({ feed, decimals: 6 }), { feed: 120, plunge: 30 });
  const block = blockOf([lineOf([[0, 10], to])], { depth: 0.05, passes: [0.05] });
  const cuts = writeProgram(run, head, [prepared(run, block)])
    .text.split('\n')
    .filter((line) => /^G1 .*[XA]/.test(line));
  expect(cuts).toHaveLength(1);
  return Number(/ F([\d.]+)$/.exec(cuts[0]!)![1]);
}

describe('feed, section 2.1.2.5 and 3.5.19', () => {
  test('G93: an F on every G1 line', () => {
    const lines = program('inverse-time');
    expect(lines).toContain('G93');
    for (const line of lines.filter((one) => one.startsWith('G1 '))) expect(line).toMatch(/ F\d/);
  });
  test('G93: the move takes 1/F minutes', () => {
    expect(cutF('inverse-time', [0, 14])).toBeCloseTo(30, 3);
    expect(cutF('inverse-time', [3, 14])).toBeCloseTo(24, 3);
  });
  test('G94, X alone: length units a minute', () => {
    expect(cutF('per-minute', [0, 14])).toBeCloseTo(120, 2);
  });
  test('G94, A alone: degrees a minute', () => {
    // 120 mm/min round a radius of 6 mm is 20 radians a minute.
    expect(cutF('per-minute', [3, 10])).toBeCloseTo((20 * 180) / Math.PI, 1);
  });
  test('G94, X with A: along X as if A stood still', () => {
    // 3 mm round and 4 along are 5 on the surface, at 120 in 1/24 minute; 4 mm of X in that time is 96 mm/min.
    expect(cutF('per-minute', [3, 14])).toBeCloseTo(96, 2);
  });
});
