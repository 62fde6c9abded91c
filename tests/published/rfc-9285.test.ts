import { describe, expect, test } from 'vitest';
import { fromBase45, toBase45 } from '../../src/register/certificate/base45.js';

/** RFC 9285, The Base45 Data Encoding, 2022. Examples of sections 4.3, 4.4 and 6, from memory. */

const bytes = (text: string): Uint8Array => Buffer.from(text, 'latin1');

describe('base45', () => {
  test.each([
    ['AB', 'BB8'],
    ['Hello!!', '%69 VD92EX0'],
    ['base-45', 'UJCLQE7W581'],
    ['ietf!', 'QED8WEX0'],
  ])('%s is %s (4.3, 4.4)', (plain, coded) => {
    expect(toBase45(bytes(plain))).toBe(coded);
    expect(Buffer.from(fromBase45(coded)!)).toEqual(bytes(plain));
  });

  test('FGW is the greatest pair, and GGW is refused (6)', () => {
    expect(Buffer.from(fromBase45('FGW')!).toString('hex')).toBe('ffff');
    expect(fromBase45('GGW')).toBeUndefined();
    expect(fromBase45(':::')).toBeUndefined();
  });

  test.each(['A', 'ABCD', 'ab8', 'BB\u00b8', '::'])('%j is refused', (coded) => {
    expect(fromBase45(coded)).toBeUndefined();
  });

  test('every byte and every length comes back', () => {
    const all = Uint8Array.from({ length: 256 }, (_, i) => i);
    for (let n = 0; n <= 256; n++)
      expect(Buffer.from(fromBase45(toBase45(all.subarray(0, n)))!)).toEqual(Buffer.from(all.subarray(0, n)));
  });
});
