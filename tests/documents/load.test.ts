import { mkdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { type Loaded, loadWorkshop } from '../../src/documents/load.js';
import { describeProblem, lineOf } from '../words-of.js';
import { append, both, type Spoil, swap, write } from './broken/edit.js';
import { builtInFonts, copyOfGood, goodWorkshop } from './workshop-copy.js';

let dir = '';
beforeEach(() => {
  dir = copyOfGood();
});
afterEach(() => rmSync(dir, { recursive: true, force: true }));

const load = (): Promise<Loaded> => loadWorkshop(dir, { builtInFonts });

async function digestsAfter(spoil: Spoil): Promise<ReadonlyMap<string, string>> {
  spoil(dir);
  const loaded = await load();
  if (!loaded.ok) throw new Error(loaded.problems.map(lineOf).join('\n'));
  return loaded.digests;
}

async function linesAfter(spoil: Spoil): Promise<string[]> {
  spoil(dir);
  const loaded = await load();
  return loaded.ok ? [] : loaded.problems.map(lineOf);
}

describe('a good workshop', () => {
  test('loads, with every document under its file name', async () => {
    const loaded = await loadWorkshop(goodWorkshop, { builtInFonts });
    if (!loaded.ok) throw new Error(loaded.problems.map(lineOf).join('\n'));
    const { documents, digests } = loaded;
    expect(documents.workshop.name).toBe('Saltmarsh Bench');
    expect([...documents.parts.keys()]).toEqual(['barrel', 'cap']);
    expect([...documents.materials.keys()]).toEqual(['resin', 'silver']);
    expect([...documents.cutters.keys()]).toEqual(['cone', 'drag']);
    expect([...documents.stations.keys()]).toEqual(['level', 'tilted']);
    expect([...documents.designs.keys()]).toEqual(['barrel-line', 'cap-number']);
    expect([...documents.editions.keys()]).toEqual(['tides']);
    expect(digests.size).toBe(12);
    for (const digest of digests.values()) expect(digest).toMatch(/^[0-9a-f]{64}$/);
  });

  test('has defaults filled in', async () => {
    const loaded = await load();
    if (!loaded.ok) throw new Error('did not load');
    expect(loaded.documents.stations.get('level')?.axes.z.offset).toBe(0);
    expect(loaded.documents.editions.get('tides')?.series[0]?.from).toBe(1);
  });

  test('may hold what editors leave behind, and links that stay inside', async () => {
    for (const name of ['cap.yaml~', '.cap.yaml.swp', 'notes.txt', '#cap.yaml#']) {
      writeFileSync(path.join(dir, 'parts', name), 'not a document');
    }
    mkdirSync(path.join(dir, 'parts/older'));
    symlinkSync('../cutters/drag.yaml', path.join(dir, 'cutters/point.yaml'));
    const loaded = await load();
    expect(loaded.ok && [...loaded.documents.cutters.keys()]).toEqual(['cone', 'drag', 'point']);
  });

  test('may lack a folder nothing refers to', async () => {
    rmSync(path.join(dir, 'stations'), { recursive: true });
    expect((await load()).ok).toBe(true);
  });

  test('may have CRLF line ends and fonts of its own', async () => {
    append('workshop.yaml', 'fonts:\r\n  engraver: { file: engraver.ttf }\r\n')(dir);
    write('engraver.ttf', 'x')(dir);
    swap('designs/cap-number.yaml', 'font: burin-plain', 'font: engraver')(dir);
    expect((await load()).ok).toBe(true);
  });
});

describe('digests', () => {
  test('do not depend on layout, order, comments or how a figure is written', async () => {
    const before = await digestsAfter(() => {});
    const after = await digestsAfter(
      write(
        'parts/cap.yaml',
        `
        # the same cap, written otherwise
        keepouts:
        - { id: clip, kind: clip, from: 18.0, to: 58, angle: 0, width: 4, shadow: 1.50, clearance: 5e-1 }
        - { to: 4, from: 0, id: lip, kind: band }
        - { kind: window, id: crown, clearance: .4, outline: [{angle: 100, z: 40}, {angle: 130, z: 40}, {angle: 115, z: 50}] }
        surfaces: [{ id: "side", from: 0, to: 60, clearance: 0.5 }]
        profile: [{ z: 0, diameter: 14 }, { z: 60, diameter: 14 }]
        wall: 0.80
        material: 'silver'
        name: Cap
        version: 1
        kind: part
        `.replace(/^ {8}/gm, ''),
      ),
    );
    expect(after).toEqual(before);
  });

  test('change with the document, and only its own', async () => {
    const before = await digestsAfter(() => {});
    const after = await digestsAfter(swap('parts/cap.yaml', 'wall: 0.8', 'wall: 0.81'));
    const changed = [...after].filter(([id, digest]) => before.get(id) !== digest).map(([id]) => id);
    expect(changed).toEqual(['part/cap']);
  });
});

describe('problems', () => {
  test('of every document come at once, in order of file and line', async () => {
    const lines = await linesAfter(
      both(
        swap('parts/cap.yaml', 'wall: 0.8', 'wall: thin'),
        swap('parts/cap.yaml', '    width: 4\n', '    wdith: 4\n'),
        swap('cutters/drag.yaml', 'shape: drag', 'shape: drga'),
        swap('designs/barrel-line.yaml', 'z: [10, 50]', 'z: [10, 59]'),
        write('editions/tides.yaml', '\ufeffkind: edition\n'),
      ),
    );
    expect(lines.map((line) => line.split(': ')[0])).toEqual([
      'cutters/drag.yaml:4:8',
      'designs/barrel-line.yaml:13:15',
      'editions/tides.yaml:1:1',
      'parts/cap.yaml:6:7',
      'parts/cap.yaml:16:5',
      'parts/cap.yaml:21:5',
    ]);
  });

  test('of a broken document do not spread to those that refer to it', async () => {
    expect(await linesAfter(swap('parts/cap.yaml', 'wall: 0.8', 'wall: thin'))).toHaveLength(1);
  });

  test('of a broken workshop.yaml do not make its fonts unknown', async () => {
    const spoil = both(
      append('workshop.yaml', 'fonts: { engraver: { file: engraver.ttf } }\ncolour: blue\n'),
      swap('designs/cap-number.yaml', 'font: burin-plain', 'font: engraver'),
    );
    expect(await linesAfter(spoil)).toHaveLength(1);
  });

  test('keep their place in a file with CRLF line ends', async () => {
    const text = readFileSync(path.join(dir, 'parts/cap.yaml'), 'utf8');
    const spoil = write('parts/cap.yaml', text.replace('wall: 0.8', 'wall: thin').replaceAll('\n', '\r\n'));
    expect((await linesAfter(spoil))[0]).toMatch(/^parts\/cap\.yaml:6:7: wall: /);
  });

  test('of one file are not told without end', async () => {
    const marks = Array.from({ length: 100 }, () => '{ x: 1 }').join(', ');
    const text = `kind: design\nversion: 1\nname: Many\npart: cap\nmarks: [${marks}]\n`;
    const lines = await linesAfter(write('designs/cap-number.yaml', text));
    expect(lines).toHaveLength(51);
    expect(lines.at(-1)).toMatch(/^designs\/cap-number\.yaml: There are more problems/);
  });

  test('name a folder that is not there', async () => {
    const loaded = await loadWorkshop(path.join(dir, 'nowhere'), { builtInFonts });
    expect(loaded.ok).toBe(false);
    if (!loaded.ok)
      expect(describeProblem(loaded.problems[0]!).message).toBe('There is no workshop folder here.');
  });
});
