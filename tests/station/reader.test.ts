import { describe, expect, test } from 'vitest';
import type { Problem } from '../../src/problem.js';
import { writeProgram } from '../../src/station/program.js';
import { readProgram } from '../../src/station/reader.js';
import { blockOf, cap, figure, head, prepared, runOn, stationOf } from './lantern-coast.js';
import { plainly } from './plain-parser.js';

const run = runOn(cap, stationOf({ before: ['G54', 'G61'], after: ['M9'] }), { speed: 9000 });
const text = writeProgram(run, head, [prepared(run, blockOf(figure))]).text;
const lines = text.split('\n');
const lineNo = (start: string) => lines.findIndex((line) => line.startsWith(start));

/** The program with one line changed, or taken out. */
const changed = (k: number, line?: string) =>
  [...lines.slice(0, k), ...(line === undefined ? [] : [line]), ...lines.slice(k + 1)].join('\n');
const problems = (words: string): readonly Problem[] => {
  const read = readProgram(words);
  return read.ok ? [] : read.problems;
};
const faults = (words: string): string[] => problems(words).map((p) => `${p.where}: ${p.code}`);

describe('a program of ours', () => {
  const read = readProgram(text);
  if (!read.ok) throw new Error('not read');
  test('is read whole', () => {
    expect(read.program.head).toEqual({
      edition: 'Nine Lights',
      label: '12/90',
      design: '0123456789abcdef',
      part: 'cap',
      surface: 'field',
      cutter: 'point 60',
      'set-up': 'bench rotary, level',
    });
    expect(read.program.mode).toBe('inverse-time');
  });
  test('move for move as a plain reader has it', () => {
    const plain = plainly(text).moves;
    expect(read.program.moves).toHaveLength(plain.length);
    read.program.moves.forEach((move, k) => {
      const other = plain[k]!;
      expect(move.line).toBe(other.n + 1);
      expect(move.kind === 'rapid').toBe(other.rapid);
      expect(move.to.x ?? Number.NaN).toBe(other.x);
      expect(move.to.a ?? Number.NaN).toBe(other.a);
      expect(move.to.z).toBe(other.z);
      if (move.kind === 'feed') expect([move.f, move.spindle, move.cut]).toEqual([other.f, 9000, 'number 1']);
    });
  });
});

describe('what is not ours is refused with its line', () => {
  const cut = lineNo('G1 X');
  test.each([
    ['an unknown word', 'G2 X1.0 A1.0 F1.0', 'read-word-unknown'],
    ['a home move', 'G28', 'read-word-unknown'],
    ['a change to inches', 'G20', 'read-word-unknown'],
    ['steps instead of places', 'G91', 'read-word-unknown'],
    ['a shift of zero on the way', 'G55', 'read-zero-shifted'],
    ['a change of feed mode on the way', 'G94', 'read-feed-mode-changes'],
    ['an exponent', 'G1 X1e3 F1.0', 'read-not-a-word'],
    ['minus nought', 'G1 X-0.0000 F1.0', 'read-not-a-word'],
    ['a small letter', 'g1 X1.0 F1.0', 'read-not-a-word'],
    ['a plus sign', 'G1 X+1.0 F1.0', 'read-not-a-word'],
    ['two spaces', 'G1  X1.0 F1.0', 'read-blank'],
    ['a space at the end', 'G1 X1.0 F1.0 ', 'read-blank'],
    ['a space at the start', ' G1 X1.0 F1.0', 'read-blank'],
    ['an empty line', '', 'read-blank-line'],
    ['a line of spaces', '  ', 'read-blank-line'],
    ['a percent sign', '%', 'read-percent'],
    ['a line number', 'N40 G1 X1.0 F1.0', 'read-line-numbers'],
    ['a comment with a space too many', '(cut:  number 1)', 'read-comment-blank'],
    ['a comment with a space at its end', '(cut: number 1) ', 'read-comment-blank'],
    ['a comment with a space too few', '(cut:number 1)', 'read-comment-blank'],
    ['another axis', 'G1 Y1.0 F1.0', 'read-word-in-move'],
    ['an axis twice', 'G1 X1.0 X2.0 F1.0', 'read-word-in-move'],
    ['a cut with no F', 'G1 X1.0', 'read-feed-without-rate'],
    ['a cut with F nought', 'G1 X1.0 F0.0', 'read-feed-without-rate'],
    ['a move to nowhere', 'G1 F10.0', 'read-move-without-axis'],
    ['a rapid with F', 'G0 X1.0 F10.0', 'read-rapid-with-feed'],
    ['an axis without a move', 'X1.0', 'read-word-unknown'],
    ['a nested comment', '(cut: a (b))', 'read-comment'],
    ['a comment with an order in it', '(MSG, wait)', 'read-comment'],
    ['words after a comment', '(cut: a) G0 Z1.0', 'read-comment'],
    ['a line too long', `(cut: ${'x'.repeat(260)})`, 'read-line-too-long'],
    ['an early end', 'M2', 'read-after-end'],
    ['another end', 'M30', 'read-word-unknown'],
  ])('%s', (_, line, what) => {
    const found = faults(changed(cut, line));
    expect(found.join('\n')).toContain(what);
    expect(found[0]).toMatch(new RegExp(`^line (${cut + 1}|${cut + 2}):`));
  });
  test('accents, tabs and carriage returns', () => {
    for (const line of ['G1 X1.0\tF1.0', 'G1 X1.0 F1.0\r', '(cut: é)'])
      expect(faults(changed(cut, line))).not.toEqual([]);
  });
  test('a text cut short', () => {
    expect(faults(text.slice(0, text.length / 2)).join('\n')).toContain('station.read-no-end');
    expect(faults(text.slice(0, -1)).join('\n')).toContain('station.read-no-last-line-feed');
    expect(faults('')).toEqual(['line 1: station.read-empty']);
  });
  test('a head with a line missing or changed about', () => {
    expect(problems(changed(1))[0]).toMatchObject({
      where: 'line 2',
      code: 'station.read-head-line',
      values: { key: 'label' },
    });
    expect(problems(changed(4, '(cutter: point 60)'))).toContainEqual(
      expect.objectContaining({ code: 'station.read-head-line', values: { key: 'surface' } }),
    );
  });
  test('units, distance mode or feed mode never said', () => {
    expect(faults(changed(lineNo('G21'), 'G21')).join('\n')).toContain('station.read-move-before-units');
    expect(faults(changed(lineNo('G93')))[0]).toContain('station.read-feed-before-mode');
  });
  test('a first move that is not straight up', () => {
    expect(faults(changed(lineNo('G0 Z')))[0]).toContain('station.read-first-move');
    expect(faults(changed(lineNo('G0 Z'), 'G0 X1.0 Z5.0'))[0]).toContain('station.read-first-move');
  });
  test('a spindle started without a speed', () => {
    expect(faults(changed(lineNo('M3'), 'M3'))[0]).toContain('station.read-spindle-without-speed');
  });
  test('what a copy through another program changes is named as such, once', () => {
    expect(faults(text.replaceAll('\n', '\r\n'))).toEqual(['line 1: station.read-carriage-return']);
    expect(faults(text.replaceAll('\n', '\r'))).toEqual(['line 1: station.read-carriage-return']);
    expect(faults(changed(cut, `${lines[cut]}\r`))).toEqual([
      `line ${cut + 1}: station.read-carriage-return`,
    ]);
    expect(faults(`\ufeff${text}`)).toEqual(['line 1: station.read-byte-order-mark']);
    expect(faults(`%\n${text}%\n`)).toEqual(['line 1: station.read-percent']);
    expect(faults(text.replaceAll('\nG', '\nN10 G'))).toEqual(['line 8: station.read-line-numbers']);
    expect(faults(text.replace('(label: ', '(label:  '))).toEqual(['line 2: station.read-comment-blank']);
    expect(faults(Buffer.from(text, 'utf16le').toString('utf8'))).toEqual([
      'line 1: station.read-wide-characters',
    ]);
    expect(faults(text.slice(0, -1))).toEqual([`line ${lines.length - 1}: station.read-no-last-line-feed`]);
  });
});
