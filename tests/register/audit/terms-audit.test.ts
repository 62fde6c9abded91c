import { expect, test } from 'vitest';
import { Findings } from '../../../src/register/audit/finding.js';
import { LifecycleReplay } from '../../../src/register/audit/lifecycle-replay.js';
import { TermsAudit } from '../../../src/register/audit/terms-audit.js';
import { toOpeningEvent } from '../../../src/register/requests.js';
import { termsOf } from '../../../src/register/terms/terms.js';
import { nineLights } from '../../edition/nine-lights.js';

const named = (name: string) => termsOf({ ...nineLights(), name }, []);
const opening = (edition: string, name: string) =>
  toOpeningEvent(edition, named(name), 'A. Moss', '2021-03-01T12:00:00.000Z');

const found = (findings: Findings) => findings.all().map(({ grade, code, seq }) => [grade, code, seq]);

test('a name that another program gave twice is a fault; one that may be taken for another, a remark', () => {
  const [audit, findings] = [new TermsAudit(), new Findings()];
  audit.add(opening('nine-lights', 'Nine Lights'), 0, findings);
  audit.add(opening('second', 'Nine Lights.'), 1, findings);
  audit.add(opening('blank', 'Nine Lights\u2800'), 2, findings);
  audit.add(opening('plus', 'Nine Lights+'), 3, findings);
  audit.add({ ...opening('plus', 'Nine Lights+'), type: 'amended' }, 4, findings);
  audit.add(opening('volume-1', 'Nine Lights I'), 5, findings);
  audit.add(opening('volume-2', 'Nine Lights II'), 6, findings);
  expect(found(findings)).toEqual([
    ['fault', 'audit.name-twice', 1],
    ['fault', 'audit.name-twice', 2],
    ['remark', 'audit.name-reads-alike', 3],
  ]);
});

test('an opening under such a name was rightly gone past', () => {
  const [audit, findings] = [new TermsAudit(), new Findings()];
  audit.add(opening('nine-lights', 'Nine Lights'), 0, findings);
  const wrong = (name: string) =>
    audit.check(opening('second', name), 1, new LifecycleReplay()).map(({ code }) => code);
  expect(wrong('Nine Lights.')).toEqual(['audit.name-twice']);
  expect(wrong('N1ne Llghts')).toEqual(['audit.name-reads-alike']);
  expect(wrong('Ten Lights')).toEqual([]);
});

test('a document under such a name is remarked on before its first number', () => {
  const [audit, findings] = [new TermsAudit(), new Findings()];
  audit.add(opening('nine-lights', 'Nine Lights'), 0, findings);
  const documents = new Map([
    ['nine-lights', named('Nine Lights')],
    ['copy', named('Nine Lights\u2122')],
    ['harbour', named('Harbour Lights')],
  ]);
  audit.conclude(new LifecycleReplay(), documents, findings);
  expect(found(findings)).toEqual([['remark', 'audit.name-not-free', undefined]]);
});
