import { cpSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, describe, expect, test } from 'vitest';
import { amendTerms } from '../../src/app/amend.js';
import { auditRegister } from '../../src/app/audit.js';
import { writeCertificates } from '../../src/app/certificate.js';
import { closeEdition } from '../../src/app/close.js';
import { cutEdition } from '../../src/app/cut.js';
import { importPast } from '../../src/app/import.js';
import { issueNumbers } from '../../src/app/issue.js';
import { registerOf } from '../../src/app/kept-register.js';
import { newKey } from '../../src/app/key.js';
import { openWorkshop, type Workshop } from '../../src/app/workshop.js';
import { cleanAfterEach, newFolder, newWorkshopCopy, recordEvent, refusalOf, sizeOf } from './workshop.js';

cleanAfterEach();

const EDITION = 'nine-lights';
const BY = 'E. Marrow';
const FILE = `editions/${EDITION}.yaml`;

let workshop: Workshop;

beforeEach(async () => {
  workshop = await newWorkshopCopy();
  await newKey({ workshop: workshop.dir, environment: workshop.environment });
  await issueNumbers(workshop, { edition: EDITION, series: 'main', count: 5, by: BY });
});

const reopened = () => openWorkshop(workshop.dir, workshop.environment);

function rewrite(file: string, from: string | RegExp, to: string): void {
  const at = join(workshop.dir, file);
  const text = readFileSync(at, 'utf8');
  const changed = text.replace(from, to);
  if (changed === text) throw new Error(`nothing changed in ${file}`);
  writeFileSync(at, changed);
}

/** Every way to an entry or a paper of an edition. */
const doors = (at: Workshop, edition = EDITION): (() => Promise<unknown>)[] => {
  const list = join(newFolder(), 'list.csv');
  writeFileSync(
    list,
    'series,number,label,state,on,by,why,part,witness,to\n,,07/90,issued,2020-01-01,A. Moss,,,,\n',
  );
  const out = join(newFolder(), 'out');
  const series = at.documents.editions.get(edition)!.series[0]!.id;
  const wanted = { series, numbers: '1' } as never;
  return [
    () => issueNumbers(at, { edition, series, count: 1, by: BY }),
    () => recordEvent(at, { edition, label: '01/90', event: 'engraved', by: BY }),
    () => closeEdition(at, { edition, by: BY }),
    () => cutEdition(at, { edition, wanted, station: 'rotary-level', out }),
    () => writeCertificates(at, { edition, labels: ['01/90'], out }),
    () => importPast(at, { edition, file: list, by: BY }),
  ];
};

/** What may happen to the documents of an edition after its first number. */
const SLIPS: [what: string, slip: () => void, code: string][] = [
  [
    'another total',
    () => rewrite(FILE, 'total: { joiner: / }', 'total: { joiner: /, of: 100 }'),
    'terms.differ',
  ],
  ['more numbers', () => rewrite(FILE, 'to: 90', 'to: 99'), 'terms.differ'],
  ['other padding', () => rewrite(FILE, 'pad: 2', 'pad: 3'), 'terms.differ'],
  ['another joiner', () => rewrite(FILE, 'joiner: /', "joiner: '-'"), 'terms.differ'],
  [
    'an exclusion',
    () => rewrite(FILE, 'pad: 2', 'pad: 2\n    exclude: [{ numbers: [13], why: unlucky }]'),
    'terms.differ',
  ],
  ['another name', () => rewrite(FILE, 'name: Nine Lights', 'name: Nine Lanterns'), 'terms.differ'],
  ['a renamed series', () => rewrite(FILE, 'id: main', 'id: numbered'), 'terms.differ'],
  [
    'one design less',
    () => rewrite(FILE, 'designs: [cap-number, barrel-title]', 'designs: [cap-number]'),
    'terms.differ',
  ],
  [
    'another material',
    () => {
      const part = readFileSync(join(workshop.dir, 'parts/cap.yaml'), 'utf8');
      const material = /material: (.*)/.exec(part)![1]!;
      cpSync(join(workshop.dir, `materials/${material}.yaml`), join(workshop.dir, 'materials/brass.yaml'));
      rewrite('parts/cap.yaml', `material: ${material}`, 'material: brass');
    },
    'terms.differ',
  ],
];

describe('documents changed after the first number', () => {
  test.each(SLIPS)(
    '%s: nothing is entered, cut or certified, and the audit says so',
    async (_what, slip, code) => {
      const size = await sizeOf(workshop);
      slip();
      const at = await reopened();
      for (const door of doors(at)) {
        const refused = await refusalOf(door());
        expect([refused.exit, refused.problems[0]?.code]).toEqual([3, code]);
      }
      expect(await sizeOf(at)).toBe(size);
      const { ok, report } = await auditRegister(registerOf(at), {});
      expect(ok).toBe(false);
      expect(report.findings.map(({ code }) => code)).toContain('audit.terms-differ');
      // What a fault says, no remark says again.
      expect(report.findings.filter(({ grade }) => grade === 'remark')).toEqual([]);
    },
  );

  test('a copy under another file name opens nothing', async () => {
    cpSync(join(workshop.dir, FILE), join(workshop.dir, 'editions/copy.yaml'));
    const at = await reopened();
    const [issue, , close] = doors(at, 'copy');
    for (const door of [issue!, close!]) {
      const refused = await refusalOf(door());
      expect([refused.exit, refused.problems[0]?.code]).toEqual([3, 'terms.name-taken']);
    }
    const { ok, report } = await auditRegister(registerOf(at), {});
    expect(ok).toBe(false);
    expect(report.findings.map(({ code }) => code)).toEqual(['audit.name-taken']);
    // The edition itself is as it was.
    const [next] = await issueNumbers(at, { edition: EDITION, series: 'main', count: 1, by: BY });
    expect(next?.label).toBe('06/90');
  });

  test('a renamed file opens nothing', async () => {
    renameSync(join(workshop.dir, FILE), join(workshop.dir, 'editions/lights.yaml'));
    const at = await reopened();
    for (const door of doors(at, 'lights')) expect((await refusalOf(door())).exit).toBe(3);
    expect((await auditRegister(registerOf(at), {})).ok).toBe(false);
  });

  test('a copy with a name of its own is an edition of its own', async () => {
    cpSync(join(workshop.dir, FILE), join(workshop.dir, 'editions/harbour.yaml'));
    rewrite('editions/harbour.yaml', 'name: Nine Lights', 'name: Harbour Lights');
    const [first] = await issueNumbers(await reopened(), {
      edition: 'harbour',
      series: 'main',
      count: 1,
      by: BY,
    });
    expect(first?.label).toBe('01/90');
  });

  test('words that are no terms may change: blanks, comments, the order of keys', async () => {
    rewrite(FILE, 'kind: edition\nversion: 1\n', '# As agreed in spring.\nversion: 1\nkind: edition\n');
    rewrite(FILE, 'total: { joiner: / }', 'total: { of: 90, joiner: "/" }');
    const [next] = await issueNumbers(await reopened(), {
      edition: EDITION,
      series: 'main',
      count: 1,
      by: BY,
    });
    expect(next?.label).toBe('06/90');
  });
});

describe('an amendment', () => {
  test('is entered from the documents, signed, and stands in the statement of edition', async () => {
    rewrite(FILE, 'pad: 2', 'pad: 2\n    exclude: [{ numbers: [13], why: thought unlucky }]');
    const at = await reopened();
    const order = { edition: EDITION, by: BY, why: 'asked by the owner of the edition' };
    const size = await sizeOf(at);
    const changes = await amendTerms(at, { ...order, dryRun: true });
    expect(await sizeOf(at)).toBe(size);
    expect(await amendTerms(at, order)).toEqual(changes);
    expect(changes).toEqual([
      { what: 'series main: exclude[0]', before: 'nothing', now: '13 (thought unlucky)' },
    ]);
    expect((await auditRegister(registerOf(at), {})).ok).toBe(true);
    const issued = await issueNumbers(at, { edition: EDITION, series: 'main', count: 9, by: BY });
    expect(issued.map(({ label }) => label)).not.toContain('13/90');
    const { statement, text } = await closeEdition(at, { edition: EDITION, by: BY, leaveOpen: true });
    expect(statement.amendments).toEqual([{ at: expect.any(String), by: BY, why: order.why, changes }]);
    expect(readFileSync(text, 'utf8')).toMatch(
      /Amended after the first number was issued\n {2}\S+ by E\. Marrow: asked by the owner of the edition\n {4}series main: exclude\[0\]: 13 \(thought unlucky\), before: nothing\n/,
    );
  });

  test('that would change a number that exists is refused', async () => {
    rewrite(FILE, 'pad: 2', 'pad: 3');
    const refused = await refusalOf(amendTerms(await reopened(), { edition: EDITION, by: BY, why: 'nicer' }));
    expect(refused.exit).toBe(3);
    expect(refused.problems[0]).toMatchObject({
      code: 'terms.label-changes',
      values: { label: '01/90', now: '001/90' },
    });
  });
});

test('what the font cannot cut is not issued', async () => {
  rewrite(FILE, "before: 'A.P. '", "before: '☃ '");
  const at = await reopened();
  const size = await sizeOf(at);
  const refused = await refusalOf(issueNumbers(at, { edition: EDITION, series: 'proofs', count: 1, by: BY }));
  expect(refused.problems[0]).toMatchObject({
    code: 'layout.characters-missing',
    where: 'designs/cap-number.yaml: mark number',
  });
  expect(await sizeOf(at)).toBe(size);
});
