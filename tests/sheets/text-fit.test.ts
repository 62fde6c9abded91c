import { describe, expect, it } from 'vitest';
import { breakLines, fitText, textWidth } from '../../src/sheets/text-fit.js';

describe('a line of text', () => {
  it('is broken so that every line fits, and loses nothing while there are lines left', () => {
    const text = 'A long title of several words, one of them Donaudampfschifffahrtsgesellschaftskapitan';
    const lines = breakLines(text, 2.6, 40, 9);
    for (const line of lines) expect(textWidth(line, 2.6)).toBeLessThanOrEqual(40);
    expect(lines.join('').replaceAll(' ', '')).toBe(text.replaceAll(' ', ''));
    const short = breakLines(text, 2.6, 40, 2);
    expect(short).toHaveLength(2);
    expect(short[1]).toMatch(/…$/);
    expect(textWidth(short[1]!, 2.6)).toBeLessThanOrEqual(40);
  });

  it('is broken after a hyphen where a word is too long', () => {
    expect(breakLines('upper-border', 2.6, textWidth('upper-bord', 2.6), 2)).toEqual(['upper-', 'border']);
  });

  it('is set large when short and broken when long', () => {
    expect(fitText('12/90', 80, 7, 3)).toEqual({ size: 7, lines: ['12/90'] });
    expect(fitText('x'.repeat(100), 80, 7, 3)).toMatchObject({ size: 2.6 });
    expect(fitText('', 80, 7, 3).lines).toEqual(['']);
  });
});
