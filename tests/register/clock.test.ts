import { expect, test } from 'vitest';
import { clockCheck } from '../../src/register/clock.js';
import { openRegister } from '../../src/register/open.js';
import { ask, codesOf, refusal } from './ask.js';
import { cleanAfterEach, newFile } from './folder.js';

cleanAfterEach();

const entryAt = (at?: string) => (at === undefined ? undefined : { seq: 7, at });
const check = (now: string, last?: string, today?: string) =>
  refusal(Promise.resolve().then(() => clockCheck(today)(new Date(now), entryAt(last))));
const passes = (now: string, last?: string, today?: string) =>
  clockCheck(today)(new Date(now), entryAt(last));

test.each(['2025-12-31T23:59:59.000Z', '1970-01-01T00:00:01.000Z', '1969-12-31T23:00:00.000Z'])(
  'a clock at %s is older than burin, whoever confirms its day',
  async (now) => {
    for (const today of [undefined, now.slice(0, 10)])
      for (const last of [undefined, '1970-01-01T00:00:00.000Z', '2031-03-01T12:00:00.000Z']) {
        const refused = await check(now, last, today);
        expect([refused.exit, codesOf(refused)]).toEqual([3, ['register.clock-too-early']]);
      }
  },
);

test.each([
  ['2036-01-01T00:00:00.000Z', undefined, 'register.clock-too-late'],
  ['9998-12-31T23:59:59.000Z', undefined, 'register.clock-too-late'],
  ['2032-03-02T12:00:01.000Z', '2031-03-01T12:00:00.000Z', 'register.clock-ahead'],
])(
  'a clock at %s after an entry at %s is asked about, until the day is confirmed',
  async (now, last, code) => {
    const refused = await check(now, last);
    expect([refused.exit, codesOf(refused)]).toEqual([3, [code]]);
    passes(now, last, now.slice(0, 10));
  },
);

test.each(['2031-02-28T11:59:59.000Z', '2026-01-01T00:00:00.000Z'])(
  'an entry a day ahead of a clock at %s holds all later ones, also where the day is confirmed',
  async (now) => {
    for (const today of [undefined, now.slice(0, 10)])
      expect((await check(now, '2031-03-01T12:00:00.000Z', today)).problems[0]).toMatchObject({
        ...{ code: 'register.clock-behind', exit: 3 },
        values: { event: 7, last: '2031-03-01T12:00:00.000Z' },
      });
    expect(codesOf(await check(now, '9999-99-99T99:99:99.999Z'))).toEqual(['register.clock-behind']);
  },
);

test.each([
  ['2026-01-01T00:00:00.000Z', undefined],
  ['2035-12-31T23:59:59.000Z', undefined],
  ['2036-03-01T12:00:00.000Z', '2035-12-31T23:59:59.000Z'],
  ['2031-02-28T12:00:00.000Z', '2031-03-01T12:00:00.000Z'],
  ['2032-03-01T12:00:00.000Z', '2031-03-01T12:00:00.000Z'],
])('a clock at %s after an entry at %s is followed', (now, last) => passes(now, last));

test('a confirmed day is today somewhere, or the clock is refused', async () => {
  passes('2031-03-01T12:00:00.000Z', undefined, '2031-03-01');
  passes('2031-03-01T12:00:00.000Z', undefined, '2031-03-02');
  for (const today of ['2031-02-27', '2031-03-03', '', 'yes'])
    expect(codesOf(await check('2031-03-01T12:00:00.000Z', undefined, today))).toEqual([
      'register.clock-not-today',
    ]);
});

test('what is refused for its clock enters nothing, and a wrong time holds no later entry', async () => {
  const file = newFile();
  let now = new Date('2026-01-01T12:00:00.000Z');
  const register = await openRegister(
    { kind: 'sqlite', file },
    { now: () => now, checkClock: clockCheck(undefined) },
  );
  await register.issue(ask);
  now = new Date('2226-01-01T12:00:00.000Z');
  expect(codesOf(await refusal(register.issue(ask)))).toEqual(['register.clock-ahead']);
  now = new Date('2026-01-02T12:00:00.000Z');
  await register.issue(ask);
  expect(await register.size()).toBe(2);
  await register.close();
});
