import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import svgpath from 'svgpath';
import { describe, expect, it } from 'vitest';
import { strokeFont } from '../../src/lettering/stroke-font.js';

const file = (inside: string, face = '<font-face cap-height="1000"/>') =>
  `<svg xmlns="http://www.w3.org/2000/svg"><defs><font horiz-adv-x="500">${face}${inside}</font></defs></svg>`;

function opened(svg: string) {
  const read = strokeFont('own', svg);
  if (!read.ok) throw new Error(read.problem.code);
  return read.font;
}

function refused(svg: string) {
  const read = strokeFont('own', svg);
  if (read.ok) throw new Error('the font was accepted');
  expect(read.problem.where).toBe('font own');
  return [read.problem.code, read.problem.values];
}

describe('a stroke font', () => {
  const font = opened(
    file(
      '<glyph unicode="A" glyph-name="A" horiz-adv-x="800" d="M0 0L500 1000 1000 0M250.5,500L750 500Z"/>' +
        '<glyph unicode="1" glyph-name="one" d="M0 0Q1 2 3 4C1 2 3 4 5 6"/>' +
        '<glyph glyph-name="one.pnum" horiz-adv-x="300" d="M0 0L0 500"/>' +
        '<glyph unicode=" " glyph-name="space"/>' +
        '<hkern u1="A,1" u2=",,A" k="100"/><hkern u1="," u2="A" k="50"/>',
    ),
  );

  it('is scaled to a capital height of 1, and a path goes on in lines after a move', () => {
    expect(font.kind).toBe('stroke');
    expect(font.glyph('A', 'tabular')).toEqual({
      key: 'A',
      advance: 0.8,
      path: [['M', 0, 0], ['L', 0.5, 1], ['L', 1, 0], ['M', 0.2505, 0.5], ['L', 0.75, 0.5], ['Z']],
    });
    expect(font.glyph(' ', 'tabular')).toEqual({ key: ' ', advance: 0.5, path: [] });
    expect(font.glyph('B', 'tabular')).toBeUndefined();
  });

  it('has variants of digits by name, and the plain digit where there is none', () => {
    expect(font.glyph('1', 'proportional')?.advance).toBe(0.3);
    expect(font.glyph('1', 'tabular')?.advance).toBe(0.5);
    expect(font.glyph('1', 'old-style')).toBe(font.glyph('1', 'tabular'));
  });

  it('moves kerned pairs closer together', () => {
    const [a, one] = [font.glyph('A', 'tabular')!, font.glyph('1', 'tabular')!];
    expect(font.kern(a, a)).toBe(-0.1);
    expect(font.kern(one, a)).toBe(-0.1);
    expect(font.kern(a, one)).toBe(0);
    expect(font.kern({ ...a, key: ',' }, a)).toBe(-0.05);
  });
});

/** What the library svgpath reads in path data, in absolute commands. */
function readBySvgpath(d: string): unknown[][] | undefined {
  const path: unknown[][] = [];
  const parsed = svgpath(d).iterate((segment) => {
    path.push([...segment]);
  });
  return 'err' in parsed && parsed.err ? undefined : path;
}

describe('path data is read as svgpath reads it', () => {
  /** The path of a glyph in a font whose capitals are 1 high. */
  function readPath(d: string): unknown {
    const read = strokeFont('own', file(`<glyph unicode="A" d="${d}"/>`, '<font-face cap-height="1"/>'));
    return read.ok ? read.font.glyph('A', 'tabular')!.path : undefined;
  }

  it('in every glyph of the fonts that come with burin', () => {
    let glyphs = 0;
    for (const name of readdirSync('fonts').filter((one) => one.endsWith('.svg')))
      for (const [, d] of readFileSync(`fonts/${name}`, 'utf8').matchAll(/<glyph [^>]*\bd="([^"]+)"/g)) {
        expect(readPath(d!)).toEqual(readBySvgpath(d!));
        glyphs++;
      }
    expect(glyphs).toBeGreaterThan(500);
  });

  it('whatever the commands, numbers and what parts them', () => {
    const number = fc.constantFrom('0', '7', '-12', '+3', '.5', '-.25', '10.75', '600.');
    const word = fc.oneof(number, number, number, fc.constantFrom('M', 'L', 'Q', 'C', 'Z'));
    const data = fc.array(fc.tuple(word, fc.constantFrom(' ', ',', ' , ')));
    let whole = 0;
    fc.assert(
      fc.property(data, (words) => {
        const d = `M 1 2 ${words
          .map((pair) => pair.join(''))
          .join('')
          .replace(/,(?=\s*([MLQCZ]|$))/g, ' ')
          .replace(/([MLQCZ]\s*),/g, '$1 ')}`;
        const read = readPath(d.trim());
        expect(read).toEqual(readBySvgpath(d.trim()));
        if (read) whole++;
      }),
      { numRuns: 2000 },
    );
    expect(whole).toBeGreaterThan(20);
  });
});

describe('a broken stroke font gives one problem', () => {
  it.each([
    ['no cap-height', file('', ''), 'lettering.stroke-font-without-cap-height'],
    [
      'a cap-height of nought',
      file('', '<font-face cap-height="0"/>'),
      'lettering.stroke-font-without-cap-height',
    ],
    ['a relative path', file('<glyph unicode="A" d="m0 0l1 1"/>'), 'lettering.stroke-font-glyph'],
    ['an arc', file('<glyph unicode="A" d="M0 0A1 1 0 0 1 2 2"/>'), 'lettering.stroke-font-glyph'],
    ['a path cut short', file('<glyph unicode="A" d="M0 0L1"/>'), 'lettering.stroke-font-glyph'],
    ['a path without a start', file('<glyph unicode="A" d="L1 1"/>'), 'lettering.stroke-font-glyph'],
    [
      'a width that is no number',
      file('<glyph unicode="A" horiz-adv-x="wide"/>'),
      'lettering.stroke-font-glyph',
    ],
    ['a kern that is no number', file('<hkern u1="A" u2="V" k="x"/>'), 'lettering.stroke-font-kern'],
  ])('%s', (_, svg, code) => {
    expect(refused(svg)[0]).toBe(code);
  });

  it('says where XML is broken', () => {
    expect(strokeFont('own', '<svg>\n<font')).toMatchObject({
      problem: { code: 'lettering.stroke-font-not-xml', where: 'font own:2:5' },
    });
  });

  it('names the glyph or the pair', () => {
    expect(refused(file('<glyph unicode="A" d="H3"/>'))[1]).toEqual({ character: 'A' });
    expect(refused(file('<hkern u1="A" u2="V" k="x"/>'))[1]).toEqual({ pair: 'A V' });
  });

  it('too many kerned pairs or glyphs are refused before they are listed', () => {
    const many = Array.from({ length: 2000 }, (_, k) => `a${k}`).join(',');
    expect(refused(file(`<hkern u1="${many}" u2="${many}" k="1"/>`))).toEqual([
      'lettering.stroke-font-too-large',
      { glyphs: 20_000, kerns: 2_000_000 },
    ]);
    expect(refused(file('<glyph unicode="A"/>'.repeat(20_001)))[0]).toBe('lettering.stroke-font-too-large');
  });
});
