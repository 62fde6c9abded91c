import { mkdirSync, readdirSync, readFileSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { checkpointOf } from '../../src/app/checkpoint.js';
import { exportEvents } from '../../src/app/export.js';
import { issueNumbers } from '../../src/app/issue.js';
import { registerOf } from '../../src/app/kept-register.js';
import { newKey, showKey } from '../../src/app/key.js';
import { writePng } from '../../src/app/write-png.js';
import { cleanAfterEach, newFolder, newWorkshopCopy, refusalOf } from './workshop.js';

cleanAfterEach();

const SVG =
  '<svg xmlns="http://www.w3.org/2000/svg" width="4mm" height="4mm" viewBox="0 0 4 4"><path d="M0 0h2v2z"/></svg>';

/** A workshop with a register and a key, and every command that writes one file. */
async function bench() {
  const workshop = await newWorkshopCopy();
  const owner = { workshop: workshop.dir, environment: workshop.environment };
  await newKey(owner);
  await issueNumbers(workshop, { edition: 'nine-lights', series: 'main', count: 2, by: 'A. Moss' });
  const writers: Record<string, (file: string) => Promise<unknown>> = {
    'key show': (file) => showKey(owner, file),
    checkpoint: (file) => checkpointOf(workshop, file),
    'export as CSV': (file) => exportEvents(registerOf(workshop), { form: 'csv', out: file }),
    'export as JSON lines': (file) => exportEvents(registerOf(workshop), { form: 'jsonl', out: file }),
    'a picture': (file) => writePng(file, SVG),
  };
  const keys = workshop.environment.keysFolder;
  const key = join(keys, readdirSync(keys).find((name) => name.endsWith('.pem'))!);
  return { workshop, writers, key };
}

describe('a command that writes a file', () => {
  test('never writes over a register, a key, a document, or the file of another command', async () => {
    const { workshop, writers, key } = await bench();
    const foreign = join(newFolder(), 'list.txt');
    writeFileSync(foreign, 'label\n01/90\n');
    const linked = join(newFolder(), 'linked');
    symlinkSync(key, linked);
    const folder = join(newFolder(), 'folder');
    mkdirSync(folder);
    const victims = [
      join(workshop.dir, 'register.db'),
      join(workshop.dir, 'workshop.yaml'),
      join(workshop.dir, 'editions/nine-lights.yaml'),
      ...[key, key.replace(/pem$/, 'last'), foreign, linked],
    ];
    for (const [name, write] of Object.entries(writers)) {
      for (const victim of victims) {
        // What the key signed last is a checkpoint of this log, and is one again.
        if (name === 'checkpoint' && victim.endsWith('.last')) continue;
        const before = readFileSync(victim);
        const refused = await refusalOf(write(victim));
        expect([name, refused.exit, refused.problems[0]!.code]).toEqual([name, 3, 'app.file-not-ours']);
        expect(readFileSync(victim).equals(before)).toBe(true);
      }
      expect((await refusalOf(write(folder))).exit).toBeGreaterThan(1);
      const own = join(newFolder(), 'out');
      await write(own);
      for (const [other, writeOther] of Object.entries(writers))
        if (other !== name) expect((await refusalOf(writeOther(own))).exit, `${other} over ${name}`).toBe(3);
      // Its own file it writes anew.
      await write(own);
    }
  });

  test('lets nobody else read a file with the names of people', async () => {
    const { writers } = await bench();
    for (const name of ['export as CSV', 'export as JSON lines']) {
      const file = join(newFolder(), 'out');
      await writers[name]!(file);
      if (process.platform !== 'win32') expect(statSync(file).mode & 0o077).toBe(0);
    }
  });

  test('marks a picture as its own, which stays a picture', async () => {
    const signature = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
    const file = join(newFolder(), 'a.png');
    await writePng(file, SVG);
    const bytes = readFileSync(file);
    expect(bytes.subarray(0, 8).equals(signature)).toBe(true);
    // Chunk after chunk: length, type, data, CRC, to the end.
    const types: string[] = [];
    for (let at = 8; at < bytes.length; at += 12 + bytes.readUInt32BE(at))
      types.push(bytes.toString('latin1', at + 4, at + 8));
    expect(types.slice(0, 2)).toEqual(['IHDR', 'tEXt']);
    expect(types.at(-1)).toBe('IEND');
  });
});
