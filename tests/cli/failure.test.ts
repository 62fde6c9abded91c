import { PassThrough, Writable } from 'node:stream';
import { expect, test } from 'vitest';
import { watchStreams } from '../../src/cli/failure.js';
import { run } from '../../src/cli/run.js';
import { processTerminal, type Terminal } from '../../src/cli/terminal.js';
import { linesOf } from './burin.js';
import { cleanAfterAll, newQuickBench } from './folders.js';

cleanAfterAll();

const bench = newQuickBench();
const UNROLL = ['unroll', 'barrel', '--surface', 'taper', '--workshop', bench];

/** What a terminal of its own was told, where reading stdin comes to this. */
async function unrollFrom(input: Terminal['input'], ...more: string[]) {
  let out = '';
  let err = '';
  const code = await run([...UNROLL, ...more], {
    input,
    out: (text) => {
      out += text;
    },
    outPaced: () => Promise.resolve(),
    err: (text) => {
      err += text;
    },
    watched: false,
    variables: {},
    now: () => 0,
  });
  return { code, out, err };
}

test('an input that the system cannot read is one line, exit 2', async () => {
  // As `burin unroll ... < folder` has it.
  const folder = Object.assign(new Error('EISDIR: illegal operation on a directory, read'), {
    ...{ code: 'EISDIR', syscall: 'read' },
  });
  const said = await unrollFrom(() => Promise.reject(folder));
  expect([said.code, said.out]).toEqual([2, '']);
  expect(linesOf(said.err)).toHaveLength(1);
  const asked = await unrollFrom(() => Promise.reject(folder), '--json');
  expect(JSON.parse(asked.out)).toMatchObject({ ok: false, problems: [{ code: 'app.is-a-folder' }] });
});

test.each([
  ['an error', new TypeError('a thing nobody foresaw'), 'a thing nobody foresaw'],
  ['anything else that is thrown', 'a bare word', 'a bare word'],
])('a fault of the program itself says so, with what its makers need: %s', async (_, fault, word) => {
  const said = await unrollFrom(() => Promise.reject(fault), '--json');
  expect(said.code).toBe(2);
  expect(said.err).toContain(word);
  expect(JSON.parse(said.out)).toMatchObject({ ok: false, problems: [{ code: 'cli.fault' }] });
});

/** A process whose stdout goes wrong, and what it says then. */
async function brokenBy(error: Error) {
  const stdout = new PassThrough();
  const stderr = new PassThrough();
  const program = { stdin: new PassThrough(), stdout, stderr, env: {}, exitCode: undefined };
  watchStreams(program, processTerminal(program));
  stdout.destroy(error);
  await new Promise(setImmediate);
  // The words are loaded only now.
  for (let turn = 0; turn < 100 && stderr.readableLength === 0; turn++) await new Promise(setImmediate);
  return { code: program.exitCode, said: String(stderr.read() ?? '') };
}

test('an answer that does not reach its reader: silence where the reader has seen enough, else exit 2', async () => {
  const failed = (code: string) => Object.assign(new Error(`${code}: write`), { code, syscall: 'write' });
  expect(await brokenBy(failed('EPIPE'))).toEqual({ code: undefined, said: '' });
  for (const error of [failed('ENOSPC'), new Error('the line is dead')]) {
    const { code, said } = await brokenBy(error);
    expect([code, linesOf(said).length]).toEqual([2, 1]);
    expect(said).toMatch(/^stdout: /);
  }
});

test('trouble with stderr ends nothing', () => {
  const program = { stdin: new PassThrough(), stdout: new PassThrough(), stderr: new PassThrough(), env: {} };
  watchStreams(program, processTerminal(program));
  expect(program.stderr.emit('error', new Error('EPIPE'))).toBe(true);
  expect(program).not.toHaveProperty('exitCode');
});

test('a long answer waits for a slow reader, and not for one that has gone', async () => {
  const taken: string[] = [];
  let take: (() => void) | undefined;
  const slow = new Writable({
    highWaterMark: 4,
    write: (chunk, _encoding, done) => {
      taken.push(String(chunk));
      take = done;
    },
  });
  const { outPaced } = processTerminal({
    ...{ stdin: new PassThrough(), stdout: slow, stderr: new PassThrough(), env: {} },
  });
  let isDone = false;
  const first = outPaced('eight by').then(() => {
    isDone = true;
  });
  await new Promise(setImmediate);
  expect([taken, isDone]).toEqual([['eight by'], false]);
  take!();
  await first;
  const second = outPaced('the reader goes');
  await new Promise(setImmediate);
  slow.destroy();
  await second;
  await outPaced('nobody is there');
  expect(taken).toEqual(['eight by', 'the reader goes']);
});
