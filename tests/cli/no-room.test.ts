import { mkdirSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { linesOf, started, startedWell } from './burin.js';
import { cleanAfterAll, filesIn, newFolder, newQuickBench } from './folders.js';

cleanAfterAll();

/** No file may have more blocks: `ulimit -f` of POSIX (sh, XCU). The disk itself is left alone. */
const withRoomOf = (blocks: number) => `ulimit -f ${blocks}; exec "$@"`;
const module = (at: string) => fileURLToPath(new URL(`../../dist/${at}`, import.meta.url));

describe.skipIf(process.platform === 'win32')('a disk with no room', () => {
  test('leaves no half workshop in the way, and is named where it is full', async () => {
    const place = newFolder();
    const [nowhere, empty] = [path.join(place, 'deep/new'), path.join(place, 'empty')];
    mkdirSync(empty);
    for (const dir of [nowhere, empty]) {
      const said = await started(['new', dir], { sh: withRoomOf(1) });
      expect([said.code, said.stdout, linesOf(said.stderr)]).toEqual([
        ...[2, ''],
        [expect.stringMatching(`^${dir}: .*(too large|full)`)],
      ]);
    }
    expect(filesIn(place)).toEqual([]);
    for (const dir of [nowhere, empty]) await startedWell(['new', dir]);
  });

  test('leaves no lock on an output folder that says nothing of its owner', async () => {
    const place = newFolder();
    const [lock, out] = [path.join(place, '.out.lock'), path.join(place, 'out')];
    const code = `import { lockOutput } from ${JSON.stringify(module('app/output-lock.js'))};
      try { await (await lockOutput(${JSON.stringify(lock)}, ${JSON.stringify(out)})).release(); process.stdout.write('taken'); }
      catch (error) { process.stdout.write(String(error.code ?? error)); }`;
    // The code comes in the place of the command.
    const lockWith = async (room: string) =>
      (
        await started(['-e', code], {
          sh: `${room}; node="$1"; shift 2; exec "$node" --input-type=module "$@"`,
        })
      ).stdout;
    expect(await lockWith('ulimit -f 0')).toBe('EFBIG');
    expect(filesIn(place)).toEqual([]);
    expect(await lockWith('true')).toBe('taken');
  });

  test.skipIf(process.platform !== 'linux')(
    'is named as that of the copy, and leaves nothing of one',
    async () => {
      const [bench, place] = [newQuickBench(), newFolder()];
      await startedWell(['issue', 'nine-lights', '--series', 'main', '--count', '1', '--by', 'A. Moss'], {
        cwd: bench,
      });
      // The system of processes takes no files.
      const copy = path.join('/proc/self', 'copy.db');
      const said = await started(['backup', copy], { cwd: bench });
      expect([said.code, linesOf(said.stderr)]).toEqual([
        2,
        [expect.stringMatching(`^${copy}: The copy cannot be written`)],
      ]);
      await startedWell(['backup', path.join(place, 'copy.db')], { cwd: bench });
    },
  );

  test('names the file beside the keys that cannot be written', async () => {
    const keys = path.join(newFolder(), 'keys');
    const env = { BURIN_KEYS: keys };
    const witness = ['witness', 'new', '--name', 'harbour'];
    const said = await started(witness, { env, sh: withRoomOf(0) });
    expect([said.code, linesOf(said.stderr)]).toEqual([
      2,
      [expect.stringMatching(`^${path.join(keys, 'witness/own.pem')}: `)],
    ]);
    expect(filesIn(keys)).toEqual([]);
    await startedWell(witness, { env });
  });
});
