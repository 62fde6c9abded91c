import { createServer, connect as dial, type Socket } from 'node:net';
import { afterEach, expect, test } from 'vitest';
import { termsOf } from '../../src/register/terms/terms.js';
import { nineLights } from '../edition/nine-lights.js';
import { ask, codesOf, labels, refusal } from './ask.js';
import { asking } from './life-rules.js';
import { onServer } from './postgres-open.js';

const { unused, open, server } = onServer();
const sockets = new Set<Socket>();
const wires: { close(): unknown }[] = [];
afterEach(() => {
  for (const one of sockets) one.destroy();
  for (const wire of wires.splice(0)) wire.close();
});

/** A wire to the server that counts how often something is sent after an answer. */
async function wireTo(
  url: string,
): Promise<{ url: string; exchanges(work: Promise<unknown>): Promise<number> }> {
  let count = 0;
  const wire = createServer((near) => {
    const far = dial(server().port, '127.0.0.1');
    let answered = true;
    for (const end of [near, far]) {
      sockets.add(end);
      end.on('error', () => undefined);
      end.on('close', () => {
        near.destroy();
        far.destroy();
      });
    }
    near.on('data', (chunk) => {
      if (answered) count++;
      answered = false;
      far.write(chunk);
    });
    far.on('data', (chunk) => {
      answered = true;
      near.write(chunk);
    });
  });
  await new Promise<void>((resolve) => wire.listen(0, '127.0.0.1', resolve));
  wires.push(wire);
  const address = wire.address();
  if (typeof address !== 'object' || !address) throw new Error('no port');
  return {
    url: url.replace(`:${server().port}/`, `:${address.port}/`),
    exchanges: async (work) => {
      const before = count;
      await work;
      return count - before;
    },
  };
}

test('an entry takes two exchanges with the server: what it asks, and what it enters with its commit', async () => {
  const { url, exchanges } = await wireTo(await unused());
  const register = await open(url);
  await register.issue(ask);
  expect(await exchanges(register.issue(ask))).toBe(2);
  expect(await exchanges(register.issue({ ...ask, count: 3, key: 'job-7' }))).toBe(2);
  expect(await exchanges(register.record(asking('engraved')))).toBe(2);
  // Asked again, nothing is entered: the same questions, then the commit of nothing.
  expect(await exchanges(register.issue({ ...ask, count: 3, key: 'job-7' }))).toBe(2);
  // Both are held against what was entered, as everything is.
  expect(codesOf(await refusal(register.issue({ ...ask, count: 2, key: 'job-7' })))).toEqual([
    'register.key-reused',
  ]);
  expect(labels(await register.issue(ask))).toEqual(['6/90']);
});

test('so does the first one of a program, which asks for the names of all editions too', async () => {
  const { url, exchanges } = await wireTo(await unused());
  const on = { ...ask, terms: termsOf(nineLights(), []) };
  await (await open(url)).issue(on);
  const register = await open(url);
  // So that it is connected.
  await register.issue({ ...ask, edition: 'harbour' });
  expect(await exchanges(register.issue(on))).toBe(2);
  expect(await exchanges(register.issue(on))).toBe(2);
  expect(await exchanges(register.record({ ...asking('engraved'), terms: on.terms }))).toBe(2);
});
