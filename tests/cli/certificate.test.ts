import { createHash } from 'node:crypto';
import { copyFileSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { codeOf } from '../../src/register/certificate/code.js';
import { readCertificate } from '../../src/register/certificate/verify.js';
import { leafHash } from '../../src/register/event.js';
import { openRegister } from '../../src/register/open.js';
import { readPdf, readSymbols } from '../sheets/pdf-reader.js';
import { burin, linesOf, type Said, well } from './burin.js';
import { cleanAfterAll, newFolder, newQuickBench } from './folders.js';

cleanAfterAll();

const bench = newQuickBench();
const env = { BURIN_KEYS: newFolder() };
const publicKey = path.join(newFolder(), 'maker.pub');
const OTHERS = ['Ottilie Vanterpool', 'Ignaz Feldhuisen'];
const OWNER = 'Łucja Dalgaard';

const at = (...words: string[]): Promise<Said> => burin([...words, '--workshop', bench], { env });
const does = (...words: string[]): Promise<string> => well([...words, '--workshop', bench], { env });
const record = (label: string, event: string, ...more: string[]) =>
  does('record', 'nine-lights', label, event, '--by', 'E. Marrow', ...more);

async function delivered(label: string, to: string, ...part: string[]): Promise<void> {
  await record(label, 'engraved', ...part);
  await record(label, 'inspected');
  await record(label, 'delivered', '--to', to);
}

beforeAll(async () => {
  await does('key', 'new', '--out', publicKey);
  await does('issue', 'nine-lights', '--series', 'main', '--count', '8', '--by', 'E. Marrow');
  const cut = ['--station', 'rotary-level', '--labels', '02/90', '--out', newFolder()];
  await does('cut', 'nine-lights', ...cut, '--by', 'E. Marrow');
  await delivered('01/90', OTHERS[0]!);
  await delivered('02/90', OWNER, '--part', 'cap');
  await delivered('03/90', OTHERS[1]!);
  await record('04/90', 'withheld', '--why', 'kept for the archive');
  await record('05/90', 'scrapped', '--why', 'the cutter slipped');
  await record('06/90', 'scrapped', '--why', 'the cutter slipped');
  await record('06/90', 'destroyed', '--witness', 'H. Quill');
  await record('07/90', 'void', '--why', 'thought unlucky');
});

describe('a certificate', () => {
  const out = path.join(newFolder(), 'certificates');
  const file = path.join(out, 'nine-lights-main-0002-1.json');

  beforeAll(async () => {
    await does('certificate', 'nine-lights', '02/90', '--out', out);
  });

  test('is a page and a file, named by edition, series, number and serial', () => {
    expect(readdirSync(out).sort()).toEqual([
      'files.sha256',
      'nine-lights-main-0002-1.json',
      'nine-lights-main-0002-1.pdf',
    ]);
  });

  test('is verified in an empty folder with the public key alone', async () => {
    const cwd = newFolder();
    copyFileSync(file, path.join(cwd, 'a.json'));
    copyFileSync(publicKey, path.join(cwd, 'maker.pub'));
    const said = await burin(['verify', 'a.json', '--key', 'maker.pub'], {
      cwd,
      // no key of the maker, and no home to look for one in
      env: { BURIN_KEYS: cwd, HOME: cwd },
    });
    expect(said).toMatchObject({ code: 0, stderr: '' });
    expect(linesOf(said.stdout)[0]).toBe(
      'Genuine: 02/90 of Nine Lights, Numbered edition, by Lantern Coast, makers of writing instruments.',
    );
    // Each event with the part it was of, where it was of one.
    const events = linesOf(said.stdout).flatMap((line) => /^ {2}\d{4}-\d\d-\d\d (.*)$/.exec(line)?.[1] ?? []);
    expect(events).toEqual(['issued', 'engraved (cap)', 'inspected']);
    expect(readdirSync(cwd).sort()).toEqual(['a.json', 'maker.pub']);
    const asked = await burin(['verify', 'a.json', '--key', 'maker.pub', '--json'], { cwd });
    expect(JSON.parse(asked.stdout)).toMatchObject({ ok: true, label: '02/90', state: 'inspected' });
  });

  test('is verified from the codes on its page, read by another program', async () => {
    const [page] = await readPdf(readFileSync(path.join(out, 'nine-lights-main-0002-1.pdf')));
    const symbols = await readSymbols(page!.picture);
    const text = path.join(newFolder(), 'codes.txt');
    writeFileSync(text, `${symbols.map((s) => s.text).join('\n')}\n`);
    expect(symbols.map((s) => s.text).sort()).toEqual(codeOf(readFileSync(file)).sort());
    expect(await burin(['verify', text, '--key', publicKey])).toMatchObject({ code: 0 });
  });

  test('is refused with the reason when it was altered, and with another key', async () => {
    const altered = path.join(newFolder(), 'altered.json');
    writeFileSync(altered, readFileSync(file, 'utf8').replace('Sterling silver', 'Platinum'));
    const said = await burin(['verify', altered, '--key', publicKey]);
    expect(said).toMatchObject({ code: 1, stdout: '' });
    expect(said.stderr).toMatch(/^certificate: The maker's signature does not match .*\n$/);
    await well(['key', 'new', '--name', 'Another Bench', '--out', `${altered}.pub`], { env });
    const foreign = await burin(['verify', file, '--key', `${altered}.pub`, '--json']);
    expect(foreign.code).toBe(1);
    expect(JSON.parse(foreign.stdout)).toMatchObject({
      ok: false,
      problems: [{ code: 'certificate.other-signer' }, {}],
    });
  });

  test.each([
    ['no such file', path.join(out, 'none.json'), publicKey],
    ['no such key', file, path.join(out, 'none.pub')],
    ['the page', path.join(out, 'nine-lights-main-0002-1.pdf'), publicKey],
  ])('cannot be read: %s', async (_what, one, key) => {
    expect(await burin(['verify', one, '--key', key])).toMatchObject({ code: 2, stdout: '' });
  });

  test('is entered with its serial and digest, and the next one bears the next serial', async () => {
    const again = path.join(newFolder(), 'again');
    const made = JSON.parse(await does('certificate', 'nine-lights', '02/90', '--out', again, '--json'));
    const bytes = readFileSync(path.join(again, 'nine-lights-main-0002-2.json'));
    expect(JSON.parse(bytes.toString('utf8')).serial).toBe(2);
    const digest = createHash('sha256').update(bytes).digest('hex');
    expect(made.certificates).toMatchObject([{ label: '02/90', serial: 2, digest }]);
    const register = await openRegister(
      { kind: 'sqlite', file: path.join(bench, 'register.db') },
      { now: () => new Date() },
    );
    const events = (await register.history('nine-lights', '02/90')).map(({ event }) => event);
    await register.close();
    expect(events.filter(({ type }) => type === 'certified')).toMatchObject([
      { serial: 1, digest: createHash('sha256').update(readFileSync(file)).digest('hex') },
      { serial: 2, digest },
    ]);
    // Its digest, or the beginning of it, leads a keeper to the number.
    for (const text of [digest, digest.slice(0, 8).toUpperCase()])
      expect(await does('register', 'nine-lights', '--search', text)).toMatch(
        new RegExp(`^02/90 .*\\n {2}event \\d+, digest: ${digest}\\n$`),
      );
    expect(await does('register', 'nine-lights', '--search', digest.slice(0, 7))).not.toContain('digest');
    expect(await does('register', 'nine-lights', '02/90')).toContain(`certified number 2 digest ${digest}`);
  });

  test('prints what it was cut from only where the register knows it', async () => {
    const other = path.join(newFolder(), 'unknown');
    await does('certificate', 'nine-lights', '01/90', '02/90', '--out', other);
    const [known, unknown] = await Promise.all(
      ['nine-lights-main-0002-3', 'nine-lights-main-0001-1'].map(
        async (name) => (await readPdf(readFileSync(path.join(other, `${name}.pdf`))))[0]!.text,
      ),
    );
    expect(known).toContain('drawn from the lines that were cut');
    expect(known).toContain('Sterling silver');
    expect(unknown).toContain('from which lines it was cut is not known');
    expect(unknown).not.toContain('Sterling silver');
  });

  test('is withdrawn once its piece is scrapped, and a list that the maker signed says so', async () => {
    const own = path.join(newFolder(), 'own');
    await does('issue', 'nine-lights', '--series', 'main', '--count', '1', '--by', 'E. Marrow');
    await record('09/90', 'engraved');
    await does('certificate', 'nine-lights', '09/90', '--out', own);
    const paper = path.join(own, 'nine-lights-main-0009-1.json');
    const before = path.join(own, 'before.list');
    await does('withdrawals', '--out', before);
    const sound = await burin(['verify', paper, '--key', publicKey, '--withdrawals', before]);
    expect(sound).toMatchObject({ code: 0 });
    expect(sound.stdout).toMatch(/Not withdrawn, as of \d+ events\./);
    await record('09/90', 'scrapped', '--why', 'the nib side is scratched');
    const after = path.join(own, 'after.list');
    await does('withdrawals', '--out', after);
    const gone = await burin(['verify', paper, '--key', publicKey, '--withdrawals', after, '--json']);
    expect(gone.code).toBe(1);
    expect(JSON.parse(gone.stdout)).toMatchObject({ problems: [{ code: 'certificate.withdrawn' }] });
    // Without a list nobody can know, and it says so.
    const offline = await burin(['verify', paper, '--key', publicKey]);
    expect(offline).toMatchObject({ code: 0 });
    expect(offline.stdout).toContain('Not known here: whether the maker withdrew it since.');
    // A list of another hand, or one that was changed, says nothing.
    const forged = path.join(own, 'forged.list');
    writeFileSync(forged, readFileSync(after, 'utf8').replace(/withdrawn [0-9a-f]{64} scrapped\n/, ''));
    expect(await burin(['verify', paper, '--key', publicKey, '--withdrawals', forged])).toMatchObject({
      code: 2,
      stdout: '',
    });
  });

  test('names its owner only when that is asked for, and nobody else in any byte', async () => {
    const own = path.join(newFolder(), 'own');
    await does('certificate', 'nine-lights', '02/90', '--with-delivery', '--out', own);
    const pages = await readPdf(readFileSync(path.join(own, 'nine-lights-main-0002-4.pdf')));
    expect(pages.map((page) => page.text).join()).toContain(OWNER);
    for (const dir of [out, own])
      for (const name of readdirSync(dir).filter((one) => one !== 'files.sha256')) {
        const bytes = readFileSync(path.join(dir, name));
        expect(bytes.includes(OWNER)).toBe(dir === own);
        for (const other of OTHERS.flatMap((one) => [one, ...one.split(' ')]))
          for (const encoding of ['utf8', 'utf16le', 'hex', 'base64'] as const)
            expect(bytes.includes(Buffer.from(other).toString(encoding))).toBe(false);
      }
    const said = await burin(['verify', path.join(own, 'nine-lights-main-0002-4.json'), '--key', publicKey]);
    expect(said.stdout).toContain(`to ${OWNER}`);
  });

  test('lies beside the earlier ones of its number, in one folder, and takes no place that is taken', async () => {
    const both = path.join(newFolder(), 'both');
    const make = (label: string) => at('certificate', 'nine-lights', label, '--out', both, '--json');
    const first = JSON.parse((await make('03/90')).stdout).certificates[0];
    const bytes = readFileSync(path.join(both, first.json));
    const second = JSON.parse((await make('03/90')).stdout).certificates[0];
    expect([first.serial, second.serial]).toEqual([1, 2]);
    expect(readFileSync(path.join(both, first.json)).equals(bytes)).toBe(true);
    for (const one of [first, second])
      expect(await burin(['verify', path.join(both, one.json), '--key', publicKey, '--json'])).toMatchObject({
        code: 0,
      });
    // Whatever has the place of the next one stays, and no certificate is entered.
    const events = await does('register', 'nine-lights', '03/90');
    for (const name of ['nine-lights-main-0003-3.pdf', 'nine-lights-main-0003-3.json']) {
      copyFileSync(path.join(both, first.json), path.join(both, name));
      const said = await make('03/90');
      expect([said.code, JSON.parse(said.stdout).problems[0]]).toMatchObject([
        3,
        { code: 'certificate.file-there' },
      ]);
      expect(readFileSync(path.join(both, name)).equals(bytes)).toBe(true);
      rmSync(path.join(both, name));
    }
    expect(await does('register', 'nine-lights', '03/90')).toBe(events);
  });

  test('nor is a list, a checkpoint or what a witness signed replaced by one of another kind', async () => {
    const dir = newFolder();
    const [list, note] = ['withdrawn.list', 'plain.note'].map((name) => path.join(dir, name));
    await does('withdrawals', '--out', list!);
    await does('checkpoint', '--out', note!);
    for (const words of [
      ['checkpoint', '--out', list!],
      ['withdrawals', '--out', note!],
    ]) {
      const before = readFileSync(words[2]!, 'utf8');
      expect(await at(...words)).toMatchObject({ code: 3 });
      expect(readFileSync(words[2]!, 'utf8')).toBe(before);
    }
    // A list that is longer than what is read of it at first, and a plain checkpoint, are replaced by newer ones.
    const lines = `withdrawn ${'0'.repeat(64)} scrapped\n`.repeat(200);
    writeFileSync(list!, readFileSync(list!, 'utf8').replace('withdrawals\n', `withdrawals\n${lines}`));
    await does('withdrawals', '--out', list!);
    await does('checkpoint', '--out', note!);
    const cosigned = `${readFileSync(note!, 'utf8')}\u2014 burin-witness/harbour AAAA\n`;
    writeFileSync(note!, cosigned);
    expect(await at('checkpoint', '--out', note!)).toMatchObject({ code: 3 });
    expect(readFileSync(note!, 'utf8')).toBe(cosigned);
  });

  test('lets nobody guess what stands beside its events: every leaf is salted', async () => {
    const read = readCertificate(readFileSync(file));
    if (!read.ok) throw new Error('unreadable');
    const register = await openRegister(
      { kind: 'sqlite', file: path.join(bench, 'register.db') },
      { now: () => new Date(0) },
    );
    const bodies: string[] = [];
    for await (const { body } of register.events()) bodies.push(body);
    await register.close();
    const hashes = new Set(read.certificate.events.flatMap((one) => one.proof));
    const told = bodies.filter((body) => hashes.has(leafHash(body).toString('base64')));
    // Whole events of others do stand in it as bare hashes ...
    expect(told.length).toBeGreaterThan(0);
    for (const body of bodies) {
      // ... and each holds 128 bits of chance (22 characters of 6 bits, of which 128 count), without which
      // everything else about it, guessed rightly, gives another hash.
      const { salt, ...rest } = JSON.parse(body) as { salt: string };
      expect(salt).toMatch(/^[A-Za-z0-9+/]{21}[AQgw]$/);
      expect(hashes.has(leafHash(JSON.stringify(rest)).toString('base64'))).toBe(false);
    }
    expect(new Set(bodies.map((body) => JSON.parse(body).salt)).size).toBe(bodies.length);
  });
});

describe('there is no certificate', () => {
  test.each([
    ['planned', '10/90', 'only planned'],
    ['issued and not engraved', '08/90', 'not engraved'],
    ['withheld', '04/90', 'withheld'],
    ['scrapped', '05/90', 'scrapped'],
    ['destroyed', '06/90', 'destroyed'],
    ['void', '07/90', 'void'],
  ])('of a number that is %s', async (_state, label, why) => {
    const out = path.join(newFolder(), 'none');
    const said = await at('certificate', 'nine-lights', '02/90', label, '--out', out);
    expect(said).toMatchObject({ code: 3, stdout: '' });
    expect(said.stderr).toContain(
      `label ${label}: It is ${why === 'not engraved' ? 'issued but not engraved' : why}`,
    );
    expect(() => readdirSync(out)).toThrow();
  });

  test('of a label nobody knows, nor with the delivery of what was not delivered', async () => {
    expect(await at('certificate', 'nine-lights', '12/80')).toMatchObject({ code: 2, stdout: '' });
    await record('08/90', 'engraved');
    const said = await at('certificate', 'nine-lights', '08/90', '--with-delivery');
    expect(said).toMatchObject({ code: 3, stdout: '' });
  });

  test('without a key', async () => {
    const said = await burin(['certificate', 'nine-lights', '02/90', '--workshop', bench], {
      env: { BURIN_KEYS: newFolder() },
    });
    expect(said).toMatchObject({ code: 2, stdout: '' });
    expect(said.stderr).toContain('The key of this log is not on this machine.');
  });
});
