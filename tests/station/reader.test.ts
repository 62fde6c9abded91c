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
      documents: 'part 01, station 02',
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
    ['an exponent', 'G1 X1.0e3 F1.0', 'read-word-in-move'],
    ['a number without a point', 'G1 X1 F1.0', 'read-no-point'],
    ['an angle without a point', 'G1 A-90 F1.0', 'read-no-point'],
    ['a semicolon', 'G1 X1.0 F1.0 ; on', 'read-sign'],
    ['a line that may be left out', '/G1 X1.0 F1.0', 'read-sign'],
    ['a formula', 'G1 X[1.0+2.0] F1.0', 'read-sign'],
    ['a parameter', '#3=15.0', 'read-sign'],
    ['a letter alone', 'G1 X F1.0', 'read-not-a-word'],
    ['two signs', 'G1 X--1.0 F1.0', 'read-not-a-word'],
    ['two points', 'G1 X1.0.0 F1.0', 'read-not-a-word'],
    ['more figures than a control has', 'G1 X1234567890123.0 F1.0', 'read-not-a-word'],
    ['two moves on a line', 'G0 G1 X1.0', 'read-word-in-move'],
    ['a feed mode in a move', 'G93 G1 X1.0 F1.0', 'read-word-in-move'],
    ['a comment that is not closed', '(cut: a', 'read-comment'],
    ['a bracket without a comment', 'G1 X1.0) F1.0', 'read-comment'],
    ['a percent sign', '%', 'read-percent'],
    ['a comment with a space too many', '(cut:  number 1)', 'read-comment-blank'],
    ['a comment with a space too few', '(cut:number 1)', 'read-comment-blank'],
    ['another axis', 'G1 Y1.0 F1.0', 'read-word-in-move'],
    ['an axis twice', 'G1 X1.0 X2.0 F1.0', 'read-word-in-move'],
    ['a cut with no F', 'G1 X1.0', 'read-feed-without-rate'],
    ['a cut with F nought', 'G1 X1.0 F0.0', 'read-feed-without-rate'],
    ['a move to nowhere', 'G1 F10.0', 'read-move-without-axis'],
    ['a rapid with F', 'G0 X1.0 F10.0', 'read-rapid-with-feed'],
    ['an axis without a move', 'X1.0', 'read-axis-without-motion'],
    ['a nested comment', '(cut: a (b))', 'read-comment'],
    ['a comment with an order in it', '(MSG, wait)', 'read-comment-active'],
    ['a line too long', `(cut: ${'x'.repeat(260)})`, 'read-line-too-long'],
    ['an early end', 'M2', 'read-after-end'],
    ['another end', 'M30', 'read-word-unknown'],
  ])('%s', (_, line, what) => {
    const found = faults(changed(cut, line));
    expect(found.join('\n')).toContain(what);
    expect(found[0]).toMatch(new RegExp(`^line (${cut + 1}|${cut + 2}):`));
  });
  test('accents, and a carriage return inside a line', () => {
    for (const line of ['G1 X1.0\rF1.0', '(cut: é)', 'G1 X1.0\u00a0F1.0'])
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
  test('what a copy through another program spoils is named as such, once', () => {
    expect(faults(text.replaceAll('\n', '\r'))).toEqual(['line 1: station.read-carriage-return']);
    expect(faults(changed(cut, `${lines[cut]}\r\r`))).toEqual([
      `line ${cut + 1}: station.read-carriage-return`,
    ]);
    expect(faults(`\ufeff${text}`)).toEqual(['line 1: station.read-byte-order-mark']);
    expect(faults(`%\n${text}`)).toEqual([`line ${lines.length}: station.read-percent`]);
    expect(faults(`${text}%\n`)).toEqual([`line ${lines.length}: station.read-percent`]);
    expect(faults(text.replace('(label: ', '(label:  '))).toEqual(['line 2: station.read-comment-blank']);
    expect(faults(Buffer.from(text, 'utf16le').toString('utf8'))).toEqual([
      'line 1: station.read-wide-characters',
    ]);
    expect(faults(text.slice(0, -1))).toEqual([`line ${lines.length - 1}: station.read-no-last-line-feed`]);
  });
  test('a head as burin wrote it before it named the documents', () => {
    expect(faults(changed(7))).toEqual(['line 8: station.read-head-old']);
  });
});

describe('what changes no move is read past, as RS274/NGC reads it', () => {
  const read = readProgram(text);
  if (!read.ok) throw new Error('not read');
  const { moves, settings, cuts, head: named } = read.program;
  const moveLines = /^(G[01] .*)$/gm;
  test.each<[string, (text: string) => string]>([
    ['carriage returns', (t) => t.replaceAll('\n', '\r\n')],
    ['a carriage return in one line', (t) => t.replace('\nG93', '\r\nG93')],
    ['line numbers', (t) => t.replace(/^(?=[G(M])/gm, 'N10 ')],
    ['line numbers without a blank', (t) => t.replace(/^(?=[GM])/gm, 'N00010')],
    ['blank lines', (t) => `\n${t.replaceAll('\n', '\n\n  \n')}`],
    ['plain comments', (t) => t.replaceAll('\n', '\n(seen, W. Strand)\n')],
    ['comments after words', (t) => t.replace(moveLines, '$1 (so)')],
    ['comments between words', (t) => t.replace(/ (?=[XAZ])/g, ' (to) ')],
    ['blanks and tabs', (t) => t.replace(moveLines, ' \t$1 ').replace(/ (?=[XAZ])/g, '\t ')],
    ['no blanks', (t) => t.replace(moveLines, (l) => l.replaceAll(' ', ''))],
    ['small letters', (t) => t.replace(/^[GM].*$/gm, (l) => l.toLowerCase())],
    ['plus signs', (t) => t.replace(/([XAZ])(?=\d)/g, '$1+')],
    ['noughts before', (t) => t.replace(/^([GM])(?=\d )/gm, '$10').replace(/([XAZ]-?)(?=\d)/g, '$100')],
    ['noughts after', (t) => t.replace(moveLines, (l) => l.replace(/(\.\d+)/g, '$100'))],
    ['no noughts after', (t) => t.replace(moveLines, (l) => l.replace(/(\.\d*?)0+(?= |$)/g, '$1'))],
    ['words in another order', (t) => t.replace(moveLines, (l) => l.split(' ').reverse().join(' '))],
    ['a percent sign before and after', (t) => `%\n${t}%\n`],
  ])('%s', (_, work) => {
    const changed = work(text);
    expect(changed).not.toBe(text);
    const again = readProgram(changed);
    if (!again.ok) throw new Error(again.problems.map((p) => `${p.where}: ${p.code}`).join('\n'));
    const plain = (all: readonly object[]) => all.map((one) => ({ ...one, line: 0 }));
    expect(plain(again.program.moves)).toEqual(plain(moves));
    expect(plain(again.program.settings)).toEqual(plain(settings));
    expect(again.program.head).toEqual(named);
    expect(again.program.cuts.map(({ name }) => name)).toEqual(cuts.map(({ name }) => name));
  });
});
