import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { parse, stringify } from 'yaml';
import { burin, well } from './burin.js';
import { cleanAfterAll, newBench, newFolder } from './folders.js';

cleanAfterAll();

function edit(dir: string, file: string, work: (text: string) => string): void {
  const at = path.join(dir, file);
  const before = readFileSync(at, 'utf8');
  const after = work(before);
  if (after === before) throw new Error(`nothing was changed in ${file}`);
  writeFileSync(at, after);
}

/** Leaves one mark of a design. */
function only(dir: string, file: string, mark: string): void {
  edit(dir, file, (text) => {
    const design = parse(text) as { marks: { id: string }[] };
    return stringify({ ...design, marks: design.marks.filter(({ id }) => id === mark) });
  });
}

const environment = { registerUrl: undefined, keysFolder: newFolder() };
const station = ['--station', 'rotary-tilted'];
const bench = newBench(undefined, 'studio-pieces');
const out = path.join(bench, 'out');

async function issued(edition: string): Promise<void> {
  await well(['issue', edition, '--series', 'studio', '--count', '9', '--by', 'E. Marrow'], { cwd: bench });
}

beforeAll(async () => {
  await issued('title-band');
  await issued('dedicated');
});

describe('a title band', () => {
  // The cut reads its program back as it writes it. The command `readback` has that in `studio-pieces.slow.test.ts`.
  test('is fitted and cut: letters grooved, a border stretched, drawings repeated, waves', async () => {
    const fit = JSON.parse(await well(['fit', 'title-band', '--json'], { cwd: bench }));
    const marks = Object.fromEntries(fit.marks.map((m: { mark: string }) => [m.mark, m]));
    expect(marks.lanterns).toMatchObject({ kept: 6, trimmed: 0, dropped: 0 });
    expect(marks['upper-border']).toMatchObject({ kept: 12 });
    expect(marks.waves).toMatchObject({ kept: 14 });
    const cut = ['cut', 'title-band', '--series', 'studio', '--numbers', '1', ...station, '--out', out];
    await well(cut, { cwd: bench });
    const turned = readFileSync(path.join(out, 'turned-barrel.svg'), 'utf8');
    expect(turned.match(/data-role="view"/g)).toHaveLength(4);
    // The lantern's flame is an area taken out, and its panes are lines.
    expect(turned).toMatch(/data-mark="lanterns" fill="#/);
    expect(turned).toMatch(/data-mark="lanterns" fill="none"/);
  });

  test('lays drawings clear of the ink window by dropping, trimming or refusing them', async () => {
    const low = newBench(undefined, 'studio-pieces');
    const design = 'designs/barrel-title-band.yaml';
    edit(low, design, (text) => text.replace('place: { z: 30, angle: 0 }', 'place: { z: 23, angle: 0 }'));
    only(low, design, 'lanterns');
    const counts = async () => {
      const fit = JSON.parse(await well(['fit', 'title-band', '--json'], { cwd: low }));
      return fit.marks.find((m: { mark: string }) => m.mark === 'lanterns');
    };
    expect(await counts()).toMatchObject({ kept: 5, trimmed: 0, dropped: 1 });
    edit(low, design, (text) => text.replace('meets: drop', 'meets: trim'));
    expect(await counts()).toMatchObject({ kept: 5, trimmed: 1, dropped: 0 });
    edit(low, design, (text) => text.replace('meets: trim', 'meets: refuse'));
    const refused = await burin(['fit', 'title-band'], { cwd: low });
    expect(refused.code).toBe(1);
    expect(refused.stdout + refused.stderr).toMatch(/lanterns: lantern 1\.4: It runs into window ink-window/);
  });
});

describe('dedications', () => {
  test('are cut each on its own piece, and a piece without one has its number alone', async () => {
    const cut = [
      'cut',
      'dedicated',
      '--series',
      'studio',
      '--numbers',
      '8-9',
      ...station,
      '--out',
      `${out}-d`,
    ];
    await well(cut, { cwd: bench });
    const programs = ['0008', '0009'].map((n) => path.join(`${out}-d`, `studio-${n}/cap-body-drag-12.nc`));
    const said = JSON.parse(await well(['readback', '--json', ...programs], { cwd: bench }));
    expect(said.files.map((file: { label: string; ok: boolean }) => [file.label, file.ok])).toEqual([
      ['VIII/IX', true],
      ['IX/IX', true],
    ]);
    const [with8, without] = programs.map((program) => readFileSync(program, 'utf8'));
    expect(with8!.match(/dedication/g)!.length).toBeGreaterThan(15);
    expect(without).not.toContain('dedication');
    expect(without).toContain('number');
  });

  test.each([
    [
      'a letter the font lacks',
      'editions/dedicated.csv',
      /Pentru Ștefan/,
      'Для Ольги',
      2,
      /has no "Д" \(U\+0414\)/,
    ],
    ['a number twice', 'editions/dedicated.csv', /\n8,/, '\n7,', 2, /Number 7 is in row \d+ already/],
    [
      'a number there is not',
      'editions/dedicated.csv',
      /\n8,/,
      '\n80,',
      2,
      /The series studio has no number 80/,
    ],
    ['land it cannot leave', 'designs/cap-dedication.yaml', 'land: 0.06', 'land: 0.6', 1, /0\.600 mm/],
    ['a helix without its climb', 'designs/cap-dedication.yaml', '    pitch: 9\n', '', 2, /Give `pitch`/],
  ])('with %s is told in one line', async (_what, file, from, to, code, told) => {
    const bad = newBench(undefined, 'studio-pieces');
    edit(bad, file, (text) => text.replace(from, to));
    const said = await burin(['fit', 'dedicated'], { cwd: bad });
    expect(said.stdout + said.stderr).toMatch(told);
    expect(said.code).toBe(code);
  });

  test('a letter the font lacks is set as the nearest where the design lets it, and listed', async () => {
    const near = newBench(undefined, 'studio-pieces');
    edit(near, 'editions/dedicated.csv', (t) => t.replace('Pentru Ștefan', 'Pentru Ẅstefan'));
    edit(near, 'designs/cap-dedication.yaml', (t) =>
      t.replace('leading: 1.9', 'leading: 1.9\n    substitute: true'),
    );
    const said = await well(['fit', 'dedicated'], { cwd: near });
    expect(said).toContain('"Ẅ" is not in the font, and "W" is cut in its place');
  });
});

describe('land that a design asks for', () => {
  test('is asked for by check as well, of letters and of drawings that repeat', async () => {
    const thin = newBench(undefined, 'studio-pieces');
    // One edition is enough: of a workshop, all of them are checked.
    for (const other of ['all-over.yaml', 'dedicated.yaml', 'dedicated.csv'])
      rmSync(path.join(thin, 'editions', other));
    const design = 'designs/barrel-title-band.yaml';
    edit(thin, design, (t) => t.replace('    meets: drop\n', '    meets: drop\n    land: 0.5\n'));
    only(thin, design, 'lanterns');
    const said = await burin(['check'], { cwd: thin });
    expect(said.code).toBe(1);
    expect(said.stderr).toMatch(/barrel-title-band\.yaml: mark lanterns: label lantern, .* 0\.500 mm/);
  });
});

describe('drawings', () => {
  test('are cleared by hatching where that is asked for', async () => {
    const bench = newBench(undefined, 'studio-pieces');
    const design = 'designs/barrel-title-band.yaml';
    const blocks = async () => {
      const { openWorkshop } = await import('../../src/app/workshop.js');
      const { fitEdition, fittedOperations } = await import('../../src/app/fit.js');
      const opened = await openWorkshop(bench, environment);
      const operations = fittedOperations(fitEdition(opened, 'title-band'))(['I/IX']);
      const marks = operations.flatMap((o) => o.marks);
      return marks.find((m) => m.fitted.mark.id === 'lanterns')!.blocks.get('I/IX')!;
    };
    only(bench, design, 'lanterns');
    edit(bench, design, (t) => t.replace('depth: 0.3\n    way: groove', 'depth: 0.1\n    way: clear'));
    const rings = await blocks();
    edit(bench, design, (t) => t.replace('way: clear', 'way: clear\n    hatch: 30'));
    const hatched = await blocks();
    const open = (all: typeof rings) =>
      all.flatMap((b) => (b.area ? b.lines : [])).filter((l) => !l.closed).length;
    expect(rings.length).toBeGreaterThan(6);
    expect(open(rings)).toBe(0);
    expect(open(hatched)).toBeGreaterThan(6);
  });

  test('that are not there, broken or empty are told at their place', async () => {
    const bad = newBench(undefined, 'studio-pieces');
    edit(bad, 'artwork/leaf.svg', () => '<svg xmlns="http://www.w3.org/2000/svg"><g></svg>');
    edit(bad, 'artwork/lantern.svg', () => '<svg xmlns="http://www.w3.org/2000/svg"><text>x</text></svg>');
    const said = await burin(['check'], { cwd: bad });
    expect(said.code).toBe(2);
    expect(said.stderr).toMatch(/artwork\/leaf\.svg:1:\d+: The file is not well-formed XML/);
    expect(said.stderr).toMatch(/artwork\/lantern\.svg: Nothing of the drawing can be cut/);
  });

  test('change the digest of the design they are part of', async () => {
    const one = newBench(undefined, 'studio-pieces');
    const { openWorkshop } = await import('../../src/app/workshop.js');
    const before = (await openWorkshop(one, environment)).digests.get('design/barrel-title-band');
    edit(one, 'artwork/leaf.svg', (t) => t.replace('A leaf', 'Another leaf'));
    const after = (await openWorkshop(one, environment)).digests.get('design/barrel-title-band');
    expect(after).not.toBe(before);
  });
});
