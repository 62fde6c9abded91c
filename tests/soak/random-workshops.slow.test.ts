import { beforeAll, expect, test } from 'vitest';
import { mustBeBuilt } from '../register/issuing.js';
import { soakWorkshops } from './soak-workshops.js';

/** `npm run soak -- workshops 5000` carries as many, `npm run soak -- workshops 5000 7` from seed 7 on. */
const WANTED = Number(process.env.SOAK_WORKSHOPS ?? 100);
const SEED = Number(process.env.SOAK_SEED ?? 1000);
const PROCESSES = Number(process.env.SOAK_PROCESSES ?? 1);
const MANY = process.env.SOAK_WORKSHOPS !== undefined;

beforeAll(mustBeBuilt);

test(
  `${WANTED} random workshops from seed ${SEED} get an answer or a refusal, in bounded time and memory`,
  async () => {
    const { faults, counts } = await soakWorkshops({
      ...{ seed: SEED, wanted: WANTED, processes: PROCESSES },
      // A test that CI runs is not held to a time; the long soak is there to measure it.
      limits: MANY,
      ...(MANY ? { report: console.log } : {}),
    });
    console.log(`random workshops from seed ${SEED}: ${JSON.stringify(counts)}`);
    expect(faults).toEqual([]);
  },
  600_000 + WANTED * 60_000,
);
