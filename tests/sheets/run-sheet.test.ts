import { describe, expect, it } from 'vitest';
import { cautionsFor } from '../../src/sheets/cautions.js';
import { displayText, stripIllegal } from '../../src/sheets/display-text.js';
import { zeroLines } from '../../src/sheets/run-setup.js';
import { type RunSheet, writeRunSheet } from '../../src/sheets/run-sheet.js';
import { asHtml, HOSTILE, roles } from './drawn.js';
import { barrel, barrelSurface, canvas, cap, capSurface, runScene } from './lantern-coast.js';

const runSheet = (run: RunSheet) => writeRunSheet(canvas, run);
const text = runSheet(runScene);
const page = asHtml(text);
const flat = (s: string | null | undefined): string => (s ?? '').replace(/\s+/g, ' ');

describe('a run sheet', () => {
  it('stands alone: no scripts, nothing fetched', () => {
    expect(page.documentElement.lang).toBe('en');
    expect(page.querySelectorAll('script, link, img, iframe, object, [src], [href]')).toHaveLength(0);
    expect(text).not.toMatch(/url\(|@import/);
    for (const one of page.querySelectorAll('*'))
      for (const { name } of one.attributes) expect(name).not.toMatch(/^on/);
    expect(text.split('\n')[3]).toBe('<meta charset="utf-8">');
  });

  it('has one main, headings in order, and tables with captions and scopes', () => {
    expect(page.querySelectorAll('main')).toHaveLength(1);
    expect(page.querySelectorAll('h1')).toHaveLength(1);
    expect(page.querySelectorAll('h2')).toHaveLength(2);
    for (const table of page.querySelectorAll('table')) {
      expect(table.querySelector('caption')?.textContent).toBeTruthy();
      for (const th of table.querySelectorAll('th')) expect(th.getAttribute('scope')).toBeTruthy();
    }
  });

  it('lists every piece once in each operation, in order, with its program', () => {
    const tables = [...page.querySelectorAll('table')];
    tables.forEach((table, k) => {
      const rows = [...table.querySelectorAll('tbody tr')];
      const pieces = runScene.operations[k]!.pieces;
      expect(rows.map((r) => r.getAttribute('data-label'))).toEqual(pieces.map((p) => p.label));
      expect(rows.map((r) => r.querySelector('.label')!.textContent)).toEqual(pieces.map((p) => p.label));
      expect(rows.map((r) => r.querySelector('.file')!.textContent)).toEqual(pieces.map((p) => p.file));
      for (const row of rows) expect(row.querySelectorAll('.tick')).toHaveLength(1);
    });
  });

  it('asks for the number as read only where the number is cut', () => {
    const [first, second] = [...page.querySelectorAll('table')];
    expect(first!.querySelectorAll('tbody .box')).toHaveLength(99);
    expect(second!.querySelectorAll('.box')).toHaveLength(0);
  });

  it('says the set-up of every operation in words, with its place drawn', () => {
    const said = flat(page.querySelector('main')?.textContent);
    for (const words of [
      'Bench rotary',
      'Diamond point: drag point, line 0.18 mm',
      'Fine cone: cone, 60° included, tip 0.1 mm',
      'does not turn',
      '18000 per minute',
      '240 mm/min, down 120 mm/min',
      '2 passes: 0.06, 0.12 mm',
      'touch the cutter to the surface at the lower edge of the surface (z = 0 mm, 12.6 mm across)',
      'index line (clip centre) up, under the cutter',
      'raise the narrower end until the top line of the surface is level',
    ])
      expect(said).toContain(words);
    expect(page.querySelectorAll('figure svg[role="img"][aria-label]')).toHaveLength(2);
    expect(roles(page, 'cut')).toHaveLength(2);
  });

  it('keeps rows whole and repeats the header', () => {
    expect(text).toContain('tr { break-inside: avoid; }');
    expect(text).toContain('thead { display: table-header-group; }');
    expect(text).toMatch(/@page \{ size: A4;/);
    for (const again of page.querySelectorAll('thead .again'))
      expect(again.textContent).toContain('Nine Lights');
  });

  it('names the clip centre only where a clip stands at the index line', () => {
    const { station } = runScene;
    const said = (surface: typeof capSurface, part: typeof cap): string =>
      zeroLines(station, surface, part)
        .map((l) => `${l.key}: ${l.words}`)
        .join('\n');
    expect(said(capSurface, cap)).toContain('A 0: index line (clip centre) up');
    expect(said(barrelSurface, barrel)).toContain('A 0: index line up');
    const level = { ...station, setup: 'level' as const };
    expect(zeroLines(level, barrelSurface, barrel)[1]).toMatchObject({
      key: 'X 0',
      words: 'datum end of the part (z = 0); X grows as z grows',
    });
  });

  it.each(HOSTILE)('is not moved by %j', (hostile) => {
    const operation = runScene.operations[0]!;
    const odd = asHtml(
      runSheet({
        ...runScene,
        bench: hostile,
        edition: hostile,
        job: hostile,
        station: { ...runScene.station, name: hostile },
        operations: [
          {
            ...operation,
            part: { ...operation.part, name: hostile },
            material: { ...operation.material, name: hostile, cautions: [hostile] },
            cutter: { ...operation.cutter, name: hostile },
            example: { ...operation.example, label: hostile },
            pieces: [{ label: hostile, file: hostile, minutes: 1 }],
          },
        ],
      }),
    );
    expect(odd.querySelectorAll('script')).toHaveLength(0);
    expect(odd.querySelector('tbody .label')!.textContent).toBe(displayText(hostile));
    expect(odd.querySelector('tbody tr')!.getAttribute('data-label')).toBe(
      stripIllegal(hostile).replace('\r', '\n'),
    );
    expect(odd.querySelectorAll('main')).toHaveLength(1);
  });

  it('is the same bytes twice, and as kept', async () => {
    expect(runSheet(runScene)).toBe(text);
    const [first] = runScene.operations;
    const small = runSheet({ ...runScene, operations: [{ ...first!, pieces: first!.pieces.slice(0, 3) }] });
    await expect(small).toMatchFileSnapshot('../fixtures/sheets/run-sheet.html');
  });
});

describe('cautions', () => {
  const words = (...args: Parameters<typeof cautionsFor>): string =>
    cautionsFor(...args)
      .map((c) => `${c.words} ${c.source ?? ''}`)
      .join('\n');

  // Canadian Conservation Institute Notes 15/3 and NFPA 40, from memory: cellulose nitrate burns fast, carries its
  // own oxygen, gives off acid vapours, and is kept cool, aired and away from heat and spark.
  it('tell what celluloid does', () => {
    const said = words('celluloid', 'cone', []);
    expect(said).toMatch(/burns fast and feeds its own oxygen/i);
    expect(said).toMatch(/no heat, spark, flame or beam/i);
    expect(said).toMatch(/swarf wet and apart/i);
    expect(said).toMatch(/store pieces cool/i);
    expect(said).toContain('Notes 15/3');
    expect(said).toContain('NFPA 40');
    expect(cautionsFor('celluloid', 'cone', [])[0]!.words).toMatch(/celluloid/i);
    expect(cautionsFor('celluloid', 'beam', [])[0]!.words).toMatch(/never cut with a beam/);
  });

  it('always defer to the maker, the codes and licensed practice, and end with the bench’s own', () => {
    for (const family of ['metal', 'resin', 'celluloid', 'ebonite', 'wood', 'lacquer'] as const)
      for (const shape of ['drag', 'cone', 'ball', 'flat', 'beam'] as const) {
        const said = words(family, shape, ['Our own.']);
        expect(said).toMatch(/machine maker's manual.*local codes.*licensed practice/);
        expect(said).toMatch(/eye protection/i);
        expect(cautionsFor(family, shape, ['Our own.']).at(-1)).toEqual({
          about: 'bench',
          words: 'Our own.',
        });
        if (shape !== 'drag' && shape !== 'beam') expect(said).toMatch(/spins/);
        if (shape === 'beam') expect(said).toMatch(/enclosure/);
      }
  });
});
