import { beforeAll, expect, test } from 'vitest';
import { mustBeBuilt } from '../register/issuing.js';
import { faultOf, soakWorkshops } from './soak-workshops.js';

const SEED = 100;
const WANTED = 1;

beforeAll(mustBeBuilt);

test(`a random workshop from seed ${SEED} gets an answer or a refusal from every step`, async () => {
  const { faults, counts } = await soakWorkshops({ seed: SEED, wanted: WANTED, processes: 1, limits: false });
  console.log(`random workshops from seed ${SEED}: ${JSON.stringify(counts)}`);
  expect(faults).toEqual([]);
  expect(counts.passed).toBe(WANTED);
  expect(counts.cut).toBe(WANTED);
});

const taken = { step: 'check', outcome: 'answer', codes: [], cpuMs: 10 } as const;

test.each([
  ['a fault', { ...taken, outcome: 'fault', codes: ['TypeError: x'] }, 'check: TypeError: x'],
  ['more than 10 s', { ...taken, cpuMs: 10_001 }, 'check took 10001 ms of processor time'],
  ['a refusal without a problem', { ...taken, outcome: 'refusal' }, 'check refuses without a problem'],
  [
    'a refusal after check',
    { ...taken, step: 'cut', outcome: 'refusal', codes: ['station.x'] },
    'cut refuses what check passed: station.x',
  ],
] as const)('finds %s', (_, step, fault) => {
  expect(faultOf({ steps: [taken, step], rssMb: 100 })).toBe(fault);
});

test('finds a process that died or held more than 1 GB, and nothing in a refusal of check', () => {
  expect(faultOf({ lost: 'cut: the process died' })).toBe('cut: the process died');
  expect(faultOf({ steps: [taken], rssMb: 1025 })).toBe('the process held 1025 MB');
  expect(
    faultOf({ steps: [{ ...taken, outcome: 'refusal', codes: ['layout.x'] }], rssMb: 9 }),
  ).toBeUndefined();
});
