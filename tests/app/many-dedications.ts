import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect } from 'vitest';
import { fitEdition, fittedOperations } from '../../src/app/fit.js';
import { remarksOf } from '../../src/app/fit-report.js';
import { openWorkshop } from '../../src/app/workshop.js';
import { newBench } from '../cli/folders.js';
import { newEnvironment } from './workshop.js';

// Names invented, spelt as their languages are: every one has letters beyond ASCII.
const FIRST = [
  'Åse',
  'Þórunn',
  'Zoë',
  'Łukasz',
  'Željko',
  'Győző',
  'Ștefan',
  'Ċensu',
  'Žofie',
  'Šárka',
  'Ąžuolas',
  'Kārlis',
  'Jürgen',
  'Françoise',
  'Íñigo',
  'João',
  'Ieuan Ŵyn',
  'Œnone',
  'Çiçek',
  'Ġużè',
  'Ľudmila',
  'Õnne',
  'Mæve',
  'Đorđe',
  'Ağca',
];
const LAST = [
  'Ångström',
  'Brontë',
  'Dvořáková',
  'Ísafjörður',
  'Wałęska',
  'Krešić',
  'Kőszegi',
  'Țărănu',
  'Ħaddiem',
  'Weißmüller',
  'Šimkutė',
  'Bērziņš',
  'Lefèvre',
  'Núñez',
  'Guimarães',
  'Ŷwain',
  'Sœur',
  'Güneş',
  'Żahra',
  'Ďurčová',
  'Põldmäe',
  'Bjørn',
  'Ó Súilleabháin',
  'Đurić',
  'Yıldız',
  'Ĉapek',
  'Ŭlis',
  'Ųla',
  'Řehoř',
  'Ůlehla',
  'Ķiploks',
  'Ģirts',
  'Ņina',
  'Ŗota',
  'Ţigan',
  'Ŝanĝo',
  'Ĥoro',
  'Ĵus',
  'Ŋgala',
  'Ŧaga',
];
const WORDS = ['Für', 'À', 'Til', 'Dla', 'Za', 'Pour', 'Para', 'I', 'Voor', 'Lil'];

/** A thousand different dedications, some in two rows. */
const TEXTS = Array.from({ length: 1000 }, (_, k) => {
  const name = `${FIRST[k % FIRST.length]} ${LAST[Math.floor(k / FIRST.length) % LAST.length]}`;
  return k % 3 === 0 ? `${WORDS[k % WORDS.length]} ${name}\n${1900 + (k % 127)}` : name;
});

/** A bench whose edition has a piece for each of these texts, with its words. */
function benchOf(
  texts: readonly string[],
  write: (text: string) => string,
): Promise<Awaited<ReturnType<typeof openWorkshop>>> {
  const dir = newBench(undefined, 'studio-pieces');
  const rows = texts.map((text, k) => `${k + 1},"${write(text)}"`);
  writeFileSync(path.join(dir, 'editions/dedicated.csv'), `number,text\n${rows.join('\n')}\n`);
  const edition = [
    'kind: edition',
    'version: 1',
    'name: Many dedications',
    'designs: [cap-dedication]',
    `series: [{ id: studio, title: Studio, from: 1, to: ${texts.length}, total: { joiner: / } }]`,
    'dedications: dedicated',
  ];
  writeFileSync(path.join(dir, 'editions/dedicated.yaml'), `${edition.join('\n')}\n`);
  return openWorkshop(dir, newEnvironment());
}

/**
 * Every so manieth of a thousand dedications in the letters of Latin Europe is fitted, the narrow ones are listed, and all
 * are cut alike however their letters are composed.
 */
export async function cutDedications(every: number): Promise<void> {
  const texts = TEXTS.filter((_, k) => k % every === 0);
  const workshop = await benchOf(texts, (text) => text.normalize('NFC'));
  // Read alike, they are fitted and cut alike: everything after the list is the same work on the same words.
  const combining = await benchOf(texts, (text) => text.normalize('NFD'));
  expect(combining.dedications).toEqual(workshop.dedications);
  const found = fitEdition(workshop, 'dedicated');
  const markCut = found.marks.find((m) => m.fit.of.mark.id === 'dedication')!;
  const mark = markCut.fit;
  if (mark.kind !== 'each') throw new Error('dedications are fitted each by itself');
  expect(mark.results.size).toBe(texts.length);
  const bad = [...mark.results].filter(([, r]) => !r.ok).map(([label]) => label);
  expect(bad).toEqual([]);
  const sizes = [...mark.results.values()].map((r) => (r.ok ? r.size : 0));
  expect(Math.min(...sizes)).toBeGreaterThanOrEqual(1.2);
  expect(Math.max(...sizes)).toBeLessThanOrEqual(2.2);
  const least = [...mark.results].filter(([, r]) => r.ok && r.size === 1.2).map(([label]) => label);
  const remarked = remarksOf(markCut)
    .filter(({ code }) => code === 'layout.fits-at-smallest-only')
    .map(({ where }) => where);
  expect(remarked).toEqual(least.map((label) => `label ${label}`));
  const operations = fittedOperations(found)([...mark.results.keys()]);
  const dedication = operations
    .flatMap((operation) => operation.marks)
    .find((m) => m.fitted.mark.id === 'dedication')!;
  const blocksOf = (label: string) => dedication.blocks.get(label) ?? [];
  const keysOf = (label: string) => blocksOf(label).map((b) => b.key);
  const cuts = [...mark.results.keys()].map((label) => keysOf(label).join('|'));
  // Every letter that is not a space is cut.
  for (const [k, label] of [...mark.results.keys()].entries()) {
    const letters = [...texts[k]!.normalize('NFC').replace(/\s/g, '')];
    const capitals = letters.map((c) => c.toLocaleUpperCase('und')).join('');
    expect(blocksOf(label).length, texts[k]).toBe([...capitals].length);
  }
  expect(new Set(cuts).size).toBe(texts.length);
}
