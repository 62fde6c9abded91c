import { describe, expect, it } from 'vitest';
import { displayText, escapeAttribute, escapeContent, stripIllegal } from '../../src/sheets/display-text.js';
import { asXml, HOSTILE } from './drawn.js';

describe('text from people', () => {
  // XML 1.0 (Fifth Edition) section 2.2: Char ::= #x9 | #xA | #xD | [#x20-#xD7FF] | [#xE000-#xFFFD] | ...
  it('keeps exactly the characters of XML 1.0', () => {
    for (let c = 0; c <= 0xffff; c++) {
      const allowed =
        c === 9 || c === 10 || c === 13 || (c >= 0x20 && c <= 0xd7ff) || (c >= 0xe000 && c <= 0xfffd);
      expect(stripIllegal(String.fromCharCode(c)) !== '', c.toString(16)).toBe(allowed);
    }
    expect(stripIllegal('\u{10000}\u{10ffff}')).toBe('\u{10000}\u{10ffff}');
  });

  it.each(HOSTILE)('comes back whole from an attribute, and as shown from content: %j', (text) => {
    const root = asXml(`<a b="${escapeAttribute(text)}">${escapeContent(text)}</a>`).documentElement;
    expect(root.getAttribute('b')).toBe(stripIllegal(text));
    expect(root.textContent).toBe(displayText(text));
    expect(root.children).toHaveLength(0);
  });

  it('writes no turning mark raw, and shows it', () => {
    // Unicode Standard Annex 9, section 2: the explicit directional formatting characters.
    for (const c of '\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069') {
      expect(escapeAttribute(c)).not.toContain(c);
      expect(escapeContent(c)).toMatch(/^\[U\+[0-9A-F]{4}\]$/);
    }
  });
});
