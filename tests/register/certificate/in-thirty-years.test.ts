import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { codeOf } from '../../../src/register/certificate/code.js';
import { altered, genuine, maker, resigned, stranger } from './maker.js';

/** The way of checking that docs/certificates.md gives, run as it stands there: it shares no code with burin. */

const there = ['python3', 'openssl'].every(
  (tool) => spawnSync(tool, [tool === 'openssl' ? 'version' : '--version']).status === 0,
);
const folder = mkdtempSync(join(tmpdir(), 'thirty-years-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const script = /```python\n([\s\S]*?)```/.exec(readFileSync('docs/certificates.md', 'utf8'))![1]!;
writeFileSync(join(folder, 'check.py'), script);

function check(bytes: Uint8Array | string, key = maker.publicKey) {
  writeFileSync(join(folder, 'one'), bytes);
  writeFileSync(join(folder, 'maker.pub'), `${key}\n`);
  return spawnSync('python3', ['check.py', 'one', 'maker.pub'], { cwd: folder, encoding: 'utf8' });
}

describe.skipIf(!there)('the page for thirty years on', () => {
  test('finds a certificate genuine, from the file and from its codes', () => {
    for (const form of [genuine(true).file, codeOf(genuine(true).file).reverse().join('\n')]) {
      const said = check(form);
      expect(said.stderr).toBe('');
      expect(said.stdout).toContain('genuine: 12/90 of Nine Lights by Lantern Coast');
      expect(said.stdout).toContain('2021-03-09 delivered');
    }
  });

  test.each([
    ['a material', () => check(altered((c) => void c.parts.reverse())), 'did not sign this certificate'],
    ['the key', () => check(genuine().file, stranger.publicKey), 'did not sign this certificate'],
    ['a proof', () => check(resigned((c) => void c.events[2]!.proof.reverse())), 'not in the register'],
    ['its length', () => check(resigned((c) => void c.events[2]!.proof.pop())), 'not in the register'],
    ['the label', () => check(resigned((c) => void Object.assign(c, { label: '13/90' }))), 'another number'],
    ['blanks', () => check(Buffer.from(genuine().file).toString().replace('{', '{ ')), 'not canonical'],
  ])('refuses what was altered: %s', (_what, run, why) => {
    const said = run();
    expect(said.status).toBe(1);
    expect(said.stderr).toContain(why);
    expect(said.stdout).not.toContain('genuine');
  });
});
