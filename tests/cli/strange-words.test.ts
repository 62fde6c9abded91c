import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { JSDOM, VirtualConsole } from 'jsdom';
import { beforeAll, expect, test } from 'vitest';
import { parse, stringify } from 'yaml';
import { plainly } from '../station/plain-parser.js';
import { burin, linesOf, well } from './burin.js';
import { cleanAfterAll, edit, filesIn, newBench } from './folders.js';

cleanAfterAll();

/** Everything at once that means something to a control, a browser, a spreadsheet or a file system. */
const STRANGE =
  '=1+1);%(M30)"\'`<script>alert(1)</script>]]><!--&amp;../../\u202ecba\u2066 onload="alert(1)"';
/** No person is entered under a name that turns the direction of reading. */
const PERSON = STRANGE.replace(/\p{Bidi_Control}/gu, '').slice(0, 90);

/** Before and after the number of a series; what the outline font has no letter for cannot be cut. */
const ROUND_THE_NUMBER: readonly (readonly [before: string | undefined, after: string | undefined])[] = [
  ['=1+1);%', ') G0 X0 (M30'],
  ['<script>alert(1)</script>', undefined],
  ['../../', '\\..<!--'],
  ['-]]>"\'`', '&lt;b onload="x"'],
  ['@', "javascript:'"],
];

const bench = newBench();
const out = path.join(bench, 'out/nine-lights');

const change = (file: string, work: (doc: Record<string, unknown>) => void): void => {
  const at = path.join(bench, file);
  const doc = parse(readFileSync(at, 'utf8')) as Record<string, unknown>;
  work(doc);
  writeFileSync(at, stringify(doc));
};

beforeAll(async () => {
  for (const file of filesIn(bench))
    change(file, (doc) => {
      doc.name = STRANGE;
      if ('maker' in doc) doc.maker = STRANGE;
      if (doc.kind === 'material') doc.cautions = [STRANGE];
    });
  change('editions/nine-lights.yaml', (doc) => {
    doc.series = ROUND_THE_NUMBER.map(([before, after], i) => ({
      id: `s${i}`,
      title: STRANGE,
      to: 1,
      ...(before ? { before } : {}),
      ...(after ? { after } : {}),
    }));
  });
  change('designs/cap-number.yaml', (doc) => {
    const [mark] = doc.marks as Record<string, unknown>[];
    Object.assign(mark!, { font: 'garamond', spacing: 0.1, size: { min: 0.8, max: 2 } });
  });
  change('designs/barrel-title.yaml', (doc) => {
    const marks = doc.marks as Record<string, unknown>[];
    Object.assign(marks[0]!, { text: ')%;<script>=../]]>`"', font: 'garamond', size: { min: 1, max: 3 } });
    // Lines round the letters do for words; a groove is another matter.
    delete marks[0]!.way;
    delete marks[0]!.land;
    // At this size the strokes of these run together, which is no matter here.
    marks[0]!['may-differ'] = ['%', '"'];
  });
  for (const i of ROUND_THE_NUMBER.keys())
    await well(['issue', 'nine-lights', '--series', `s${i}`, '--count', '1', '--by', PERSON], {
      cwd: bench,
    });
  const labels = ROUND_THE_NUMBER.map(([before = '', after = '']) => `${before}1${after}`);
  // In one word with its option, for a label may begin with a hyphen.
  const named = labels.map((label) => `--labels=${label}`);
  await well(['cut', 'nine-lights', '--station', 'rotary-level', ...named], { cwd: bench });
});

test('files are named by ids and figures alone', () => {
  const files = filesIn(out);
  expect(files).toHaveLength(4 * ROUND_THE_NUMBER.length + 5);
  for (const file of files) expect(file).toMatch(/^[a-z0-9./-]+$/);
  expect(filesIn(bench).filter((f) => f.includes('script'))).toEqual([]);
});

test('programs hold nothing of them but safe comments, and read back', async () => {
  const programs = filesIn(out).filter((f) => f.endsWith('.nc'));
  for (const file of programs) {
    const { comments, settings } = plainly(readFileSync(path.join(out, file), 'latin1'));
    for (const comment of comments) expect(comment).toMatch(/^[A-Za-z0-9 .,\-_/#:]+$/);
    expect(settings.filter((s) => s === 'M2')).toHaveLength(1);
    expect(settings.join(' ')).not.toContain('M30');
  }
  const read = await burin(['readback', ...programs.map((f) => path.join(out, f))], { cwd: bench });
  expect({ code: read.code, stderr: read.stderr }, read.stdout).toEqual({ code: 0, stderr: '' });
});

/** Holds that nothing in a page could run, and that the words are there to read. */
function holdInert(document: Document, raw: string): void {
  expect(document.querySelectorAll('script, foreignObject, iframe, object, embed, base, link')).toHaveLength(
    0,
  );
  for (const element of document.querySelectorAll('*')) {
    for (const { name, value } of element.attributes) {
      expect(name).not.toMatch(/^on/i);
      if (/href$|^src$/.test(name)) expect(value).toMatch(/^(#|data:image\/)/);
    }
  }
  expect(raw).not.toMatch(/[\u202a-\u202e\u2066-\u2069]/);
  expect(document.documentElement.textContent).toContain('<script>alert(1)</script>');
}

test('sheets and the proof are well-formed, and nothing in them can run', () => {
  const { DOMParser } = new JSDOM('').window;
  for (const file of filesIn(out).filter((f) => f.endsWith('.svg'))) {
    const raw = readFileSync(path.join(out, file), 'utf8');
    const document = new DOMParser().parseFromString(raw, 'image/svg+xml');
    expect(document.documentElement.tagName).toBe('svg');
    holdInert(document, raw);
  }
});

test('the run sheet holds nothing that can run', () => {
  const raw = readFileSync(path.join(out, 'run-sheet.html'), 'utf8');
  // jsdom does not know the page margins of print, and would say so at length.
  holdInert(new JSDOM(raw, { virtualConsole: new VirtualConsole() }).window.document, raw);
});

test('no cell of the register is taken for a formula, and every label comes through', async () => {
  const lines = linesOf(await well(['register', 'nine-lights', '--csv'], { cwd: bench }));
  const labels = lines.slice(1).map((line) => {
    const cell = /^s\d,1,(.*),issued(,|$)/.exec(line)![1]!;
    const bare = cell.startsWith('"') ? cell.slice(1, -1).replaceAll('""', '"') : cell;
    expect(bare).not.toMatch(/^[=+\-@\t\r]/);
    return bare.replace(/^'/, '');
  });
  expect(labels).toEqual(ROUND_THE_NUMBER.map(([before = '', after = '']) => `${before}1${after}`));
});

test('a sign that turns the reading direction, in a label, is refused with its code point: no font has it', async () => {
  const turned = newBench();
  edit(turned, 'editions/nine-lights.yaml', "before: 'A.P. '", 'before: "\\u202E"');
  const said = await burin(['check'], { cwd: turned });
  expect({ code: said.code, stdout: said.stdout }).toEqual({ code: 2, stdout: '' });
  expect(said.stderr).toContain('U+202E');
  expect(said.stderr).not.toContain('\u202e');
});
