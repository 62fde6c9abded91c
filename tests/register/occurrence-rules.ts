import { describe, expect } from 'vitest';
import type { Register } from '../../src/register/register.js';
import { ask, codesOf, refusal } from './ask.js';
import { asking } from './life-rules.js';
import type { Test } from './of-each-table.js';

/** When events may have happened, and who may have seen them. The register's clock stands at noon on 1 March 2021, UTC. */
export function occurrenceRules(fresh: () => Promise<Register>, test: Test): void {
  describe('the day of an event', () => {
    // Somewhere it is still, or already, the day before or after.
    test.each(['2021-03-01', '2021-03-02', '2021-03-01T11:59:00.000Z'])('%s can be', async (on) => {
      const register = await fresh();
      await register.issue(ask);
      expect((await register.record({ ...asking('engraved'), on })).state).toBe('engraved');
    });

    test.each([
      ['2021-03-03', 'register.day-to-come'],
      ['9999-12-31', 'register.day-to-come'],
      ['2021-02-28', 'register.day-too-early'],
      ['1031-03-01', 'register.day-too-early'],
      ['2021-02-28T23:00:00.000Z', 'register.day-too-early'],
    ])('%s of a number issued on 1 March is refused', async (on, code) => {
      const register = await fresh();
      await register.issue(ask);
      const refused = await refusal(register.record({ ...asking('engraved'), on }));
      expect([refused.exit, codesOf(refused)]).toEqual([3, [code]]);
      expect(await register.size()).toBe(1);
    });

    test('is not before that of the event it follows', async () => {
      const register = await fresh();
      await register.importEvents([{ ...asking('withheld'), event: 'issued', on: '2019-05-04' }]);
      await register.record({ ...asking('engraved'), on: '2019-06-01' });
      const refused = await refusal(register.record({ ...asking('inspected'), on: '2019-05-31' }));
      expect(refused.problems[0]).toMatchObject({
        code: 'register.day-too-early',
        values: { day: '2019-05-31', earliest: '2019-06-01', event: 'engraved' },
      });
      expect((await register.record({ ...asking('inspected'), on: '2019-06-01' })).since).toBe('2019-06-01');
    });
  });

  describe('a witness', () => {
    test.each([
      ...[
        'A. Moss',
        'a moss',
        'A.Moss',
        '\u0391. \u039coss',
        '\u0410. Moss',
        'A.\u200b Moss',
        'A. Moss\u2800',
      ],
      ...[
        'Moss, A.',
        'Moss A',
        'A. M\u00f3ss',
        'Mr A. Moss',
        'A. Moss (keeper)',
        'A. M0ss',
        'A. Rnoss',
        'Moss',
      ],
    ])('%s is not another person than A. Moss', async (witness) => {
      const register = await fresh();
      await register.issue(ask);
      await register.record(asking('scrapped'));
      const destroyed = { ...asking('destroyed'), by: 'A. Moss', witness };
      expect(codesOf(await refusal(register.record(destroyed)))).toEqual(['register.own-witness']);
      const row = (await refusal(register.importEvents([destroyed]))).problems[0]!;
      expect(row).toMatchObject({
        code: 'register.import-refused',
        values: { fault: { code: 'register.own-witness' } },
      });
      expect(await register.size()).toBe(2);
    });
  });
}
