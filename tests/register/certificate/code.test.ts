import { inflateRawSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { fromBase45 } from '../../../src/register/certificate/base45.js';
import { codeOf, fromCode, isCode, LONGEST_PART } from '../../../src/register/certificate/code.js';
import { genuine, OTHER_OWNER } from './maker.js';

const file = genuine(true).file;
const text = (parts: readonly string[]): string => parts.join('\n');
/** Bytes that do not pack, so that there are several parts. */
const long = Buffer.from(
  Array.from({ length: 400 }, (_, i) => (i * 2654435761).toString(36)).join(' '),
  'utf8',
);

describe('the code of a certificate', () => {
  test('gives the very same bytes back', () => {
    expect(fromCode(text(codeOf(file)))).toEqual({ ok: true, bytes: Buffer.from(file) });
  });

  test('is raw deflate in base45 between its head and its full stop: any reader of both can take it apart', () => {
    const parts = codeOf(file).map((part) => /^BURIN1:\d+\/\d+:(.*)\.$/.exec(part)![1]!);
    expect(inflateRawSync(fromBase45(parts.join(''))!)).toEqual(Buffer.from(file));
    expect(inflateRawSync(fromBase45(parts.join(''))!).toString()).not.toContain(OTHER_OWNER);
  });

  test('is cut into parts that each fit a symbol, to be read in any order, with blanks and line ends about', () => {
    const parts = codeOf(long);
    expect(parts.length).toBeGreaterThan(1);
    for (const part of parts) expect(part.length).toBeLessThanOrEqual(LONGEST_PART);
    const turned = [...parts].reverse().map((part) => `  ${part} \r\n`);
    expect(fromCode(`\n${turned.join('\n')}${parts[0]}\n`)).toEqual({ ok: true, bytes: long });
  });

  test.each([
    ['a part missing', () => text(codeOf(long).slice(1)), /code-missing/],
    ['no part at all', () => ' \n', /code-none/],
    ['its end cut off', () => text(codeOf(file)).slice(0, -1), /code-line/],
    ['its head cut off', () => text(codeOf(file)).slice(3), /code-line/],
    ['a part of another count', () => text([codeOf(long)[0]!, 'BURIN1:9/9:AB.']), /codes-mixed/],
    ['part 0', () => text(codeOf(file)).replace(/1\/\d+:/, '0/9:'), /codes-mixed/],
    [
      'one part twice, differing',
      () => text([codeOf(long)[0]!, codeOf(long)[0]!.replace(/.\.$/, '.')]),
      /code-twice/,
    ],
    ['a small letter', () => text(codeOf(file)).replace(/:(.)(\w)/, ':$1a'), /code-line|code-characters/],
    [
      'a character left out',
      () => text(codeOf(file)).replace(/.{4}\.$/, '.'),
      /code-damaged|code-characters/,
    ],
    ['another in place of one', () => text(codeOf(long)).replace(/.(.{40})\.$/, '0$1.'), /code-/],
  ])('with %s is refused', (_what, make, why) => {
    const read = fromCode(make());
    if (read.ok) expect(read.bytes).not.toEqual(long);
    else expect(read.problem.code).toMatch(why);
  });

  test('never unpacks to more than a certificate may be', () => {
    const bomb = text(codeOf(Buffer.alloc(5_000_000, 'a')));
    expect(fromCode(bomb)).toMatchObject({ ok: false, problem: { code: 'certificate.code-damaged' } });
  });

  test('is told from the certificate itself', () => {
    expect(isCode(text(codeOf(file)))).toBe(true);
    expect(isCode(Buffer.from(file).toString())).toBe(false);
  });
});
