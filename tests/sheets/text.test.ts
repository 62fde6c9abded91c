import { describe, expect, it } from 'vitest';
import { figure, told } from '../../src/sheets/figures.js';
import { broken, fitted, typeWidth } from '../../src/sheets/look.js';
import { attribute, content, legal, shown } from '../../src/sheets/text.js';
import { asXml, HOSTILE } from './drawn.js';

describe('text from people', () => {
  // XML 1.0 (Fifth Edition) section 2.2: Char ::= #x9 | #xA | #xD | [#x20-#xD7FF] | [#xE000-#xFFFD] | ...
  it('keeps exactly the characters of XML 1.0', () => {
    for (let c = 0; c <= 0xffff; c++) {
      const allowed =
        c === 9 || c === 10 || c === 13 || (c >= 0x20 && c <= 0xd7ff) || (c >= 0xe000 && c <= 0xfffd);
      expect(legal(String.fromCharCode(c)) !== '', c.toString(16)).toBe(allowed);
    }
    expect(legal('\u{10000}\u{10ffff}')).toBe('\u{10000}\u{10ffff}');
  });

  it.each(HOSTILE)('comes back whole from an attribute, and as shown from content: %j', (text) => {
    const root = asXml(`<a b="${attribute(text)}">${content(text)}</a>`).documentElement;
    expect(root.getAttribute('b')).toBe(legal(text));
    expect(root.textContent).toBe(shown(text));
    expect(root.children).toHaveLength(0);
  });

  it('writes no turning mark raw, and shows it', () => {
    // Unicode Standard Annex 9, section 2: the explicit directional formatting characters.
    for (const c of '\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069') {
      expect(attribute(c)).not.toContain(c);
      expect(content(c)).toMatch(/^\[U\+[0-9A-F]{4}\]$/);
    }
  });
});

describe('figures', () => {
  it('have four decimals at most, no exponent and no -0', () => {
    expect([1, 0.5, -0.00001, -0, 1e-9, 123456.78916, -2.5].map((v) => figure(v))).toEqual([
      '1',
      '0.5',
      '0',
      '0',
      '0',
      '123456.7892',
      '-2.5',
    ]);
    expect(figure(100, 0)).toBe('100');
    expect(() => figure(Number.NaN)).toThrow(RangeError);
    expect(told(-3.2)).toBe('\u22123.2');
  });
});

describe('type', () => {
  it('is broken so that every line fits, and loses nothing while there are lines left', () => {
    const text = 'A long title of several words, one of them Donaudampfschifffahrtsgesellschaftskapitan';
    const lines = broken(text, 2.6, 40, 9);
    for (const line of lines) expect(typeWidth(line, 2.6)).toBeLessThanOrEqual(40);
    expect(lines.join('').replaceAll(' ', '')).toBe(text.replaceAll(' ', ''));
    const short = broken(text, 2.6, 40, 2);
    expect(short).toHaveLength(2);
    expect(short[1]).toMatch(/…$/);
    expect(typeWidth(short[1]!, 2.6)).toBeLessThanOrEqual(40);
  });

  it('is set large when short and broken when long', () => {
    expect(fitted('12/90', 80, 7, 3)).toEqual({ size: 7, lines: ['12/90'] });
    expect(fitted('x'.repeat(100), 80, 7, 3)).toMatchObject({ size: 2.6 });
    expect(fitted('', 80, 7, 3).lines).toEqual(['']);
  });
});
