import { truncateSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { append, type Broken, broken, prefix, type Spoil, swap, write } from './edit.js';

const cap = 'parts/cap.yaml';

const rewrite =
  (file: string, encode: (text: string) => Uint8Array): Spoil =>
  (dir) =>
    writeFileSync(path.join(dir, file), encode('kind: part\nversion: 1\nname: Cap\n'));

const utf16be = (text: string): Uint8Array => Buffer.from(`\ufeff${text}`, 'utf16le').swap16();

/** Ten references to the line before, ten deep: 300 bytes that mean ten thousand million entries. */
const bomb = Array.from({ length: 10 }, (_, i) =>
  i === 0 ? 'a0: &a0 [x, x]' : `a${i}: &a${i} [${Array.from({ length: 10 }, () => `*a${i - 1}`).join(', ')}]`,
).join('\n');

export const brokenText: Broken[] = [
  broken('empty file', write(cap, ''), `${cap}:1:1: The file is empty.`),
  broken('nothing but a comment', write(cap, '# later\n'), `${cap}:1:1: The file has no document in it.`),
  broken('nothing but white space', write(cap, ' \n\n'), `${cap}:1:1: The file has no document in it.`),
  broken(
    'UTF-8 byte order mark',
    prefix(cap, [0xef, 0xbb, 0xbf]),
    `${cap}:1:1: The file begins with a byte order mark.`,
  ),
  broken(
    'UTF-16, low byte first',
    rewrite(cap, (t) => Buffer.from(`\ufeff${t}`, 'utf16le')),
    `${cap}:1:1: The file is in UTF-16.`,
  ),
  broken('UTF-16, high byte first', rewrite(cap, utf16be), `${cap}:1:1: The file is in UTF-16.`),
  broken(
    'UTF-16 without a mark',
    rewrite(cap, (t) => Buffer.from(t, 'utf16le')),
    `${cap}:1:2: The file has a control character (U+0000).`,
  ),
  broken(
    'Latin-1',
    rewrite(cap, (t) => Buffer.from(t.replace('Cap', 'Éb\u00e8ne'), 'latin1')),
    `${cap}:3:7: This is not valid UTF-8.`,
  ),
  broken(
    'NUL byte',
    swap(cap, 'name: Cap', 'name: C\u0000p'),
    `${cap}:4:8: The file has a control character (U+0000).`,
  ),
  broken(
    'escape character',
    swap(cap, 'name: Cap', 'name: \u001b[2JCap'),
    `${cap}:4:7: The file has a control character (U+001B).`,
  ),
  broken(
    'carriage returns alone',
    swap(cap, 'name: Cap\n', 'name: Cap\r'),
    `${cap}:4:10: A line ends in a carriage return without a line feed.`,
  ),
  broken(
    'tab for indentation',
    swap(cap, '    to: 60', '\tto: 60'),
    `${cap}:13:1: This line is indented with a tab.`,
  ),
  broken(
    'indentation that fits nothing',
    swap(cap, '    to: 60', '   to: 60'),
    `${cap}:13:4: This line is not indented like the lines it belongs with.`,
  ),
  broken(
    'quote not closed',
    swap(cap, 'name: Cap', 'name: "Cap'),
    `${cap}:4:7: A quoted text is not closed.`,
    { lines: 1 },
  ),
  broken(
    'bracket not closed',
    swap(cap, '{ z: 0, diameter: 14 }', '{ z: 0, diameter: 14'),
    `${cap}:8:5: A bracket is not closed.`,
  ),
  broken(
    'brackets closed on a line that is not indented',
    swap(cap, '{ z: 0, diameter: 14 }', '{ z: 0,\n  diameter: 14 }'),
    `${cap}:8:5: A bracket is not closed. Add the closing bracket, or indent the lines inside the brackets further.`,
    { lines: 1 },
  ),
  broken(
    'two keys on one line',
    swap(cap, 'name: Cap', 'name: Cap: silver'),
    `${cap}:4:7: There is a second \`key: value\` on the same line.`,
  ),
  broken('colon missing', swap(cap, 'name: Cap', 'name Cap'), `${cap}:4:1: This line is not \`key: value\`.`),
  broken(
    'line indented too deep',
    swap(cap, 'wall: 0.8', '  wall: 0.8'),
    `${cap}:5:11: The next line is indented as if it continued this one.`,
  ),
  broken(
    'backslash that means nothing',
    swap(cap, 'name: Cap', 'name: "Cap\\q"'),
    `${cap}:4:11: This backslash does not begin an escape that YAML knows.`,
  ),
  broken(
    'text that begins with a sign',
    swap(cap, 'name: Cap', 'name: @Cap'),
    `${cap}:4:7: This text begins with a character that has a meaning of its own in YAML.`,
  ),
  broken(
    'duplicate key',
    swap(cap, 'name: Cap\n', 'name: Cap\nname: Hood\n'),
    `${cap}:5:1: name: The key \`name\` is given twice.`,
  ),
  broken(
    'duplicate key in brackets',
    swap(cap, '{ z: 60, diameter: 14 }', '{ z: 60, diameter: 14, z: 61 }'),
    `${cap}:9:28: profile[1].z: The key \`z\` is given twice.`,
    { lines: 1 },
  ),
  broken('second document', append(cap, '---\nkind: part\n'), `${cap}:35:1: A second document begins here.`),
  broken('reference', swap(cap, '{ z: 40, angle: 130 }', '*first'), `${cap}:33:9: `),
  broken(
    'anchor',
    swap(cap, '{ z: 40, angle: 100 }', '&first { z: 40, angle: 100 }'),
    `${cap}:32:16: keepouts[2].outline[0]: This refers to a value elsewhere (\`&\`, \`*\` or \`<<\`), which a document may not do.`,
  ),
  broken(
    'reference bomb',
    write(cap, `kind: part\n${bomb}\n`),
    `${cap}:2:9: a0: This refers to a value elsewhere (\`&\`, \`*\` or \`<<\`), which a document may not do.`,
    { lines: 51 },
  ),
  broken(
    'merge key',
    swap(cap, '  - kind: band\n', '  - <<: { clearance: 1 }\n    kind: band\n'),
    `${cap}:24:5: keepouts[1]: This refers to a value elsewhere`,
  ),
  broken(
    'tag',
    swap(cap, 'name: Cap', 'name: !label Cap'),
    `${cap}:4:7: A document may not have YAML directives or tags.`,
  ),
  broken(
    'tag of the core schema',
    swap(cap, 'wall: 0.8', "wall: !!float '0.8'"),
    `${cap}:6:15: wall: A document may not have YAML directives or tags.`,
  ),
  broken(
    'YAML 1.1 asked for',
    prefix(cap, [...Buffer.from('%YAML 1.1\n---\n')]),
    `${cap}:1:1: A document may not have YAML directives or tags.`,
  ),
  broken(
    'top level a list',
    write(cap, '- kind: part\n'),
    `${cap}:1:1: The document is a list, but it must be keys with values.`,
  ),
  broken('top level a word', write(cap, 'part\n'), `${cap}:1:1: The document is a single value`),
  broken(
    'nested brackets',
    write(cap, `kind: ${'['.repeat(100_000)}`),
    `${cap}:1:46: This is nested more than 40 levels deep.`,
  ),
  broken(
    'nested dashes',
    write(cap, '- '.repeat(100_000)),
    `${cap}:1:80: This is nested more than 40 levels deep.`,
  ),
  broken(
    'a hundred thousand entries',
    write(cap, `kind: part\nversion: 1\nprofile: [${'1, '.repeat(100_000)}]`),
    `${cap}:3:`,
  ),
  broken(
    'a hundred thousand keys',
    write(
      cap,
      Array.from({ length: 99_999 }, (_, i) => `k${i}: 1`)
        .join('\n')
        .slice(0, 999_000),
    ),
    `${cap}:`,
  ),
  broken('hundreds of thousands of bad escapes', write(cap, `name: "${'\\x'.repeat(400_000)}"`), `${cap}:1:`),
  broken(
    'key that is a number',
    swap(cap, 'name: Cap\n', 'name: Cap\n7: x\n'),
    `${cap}:5:1: This key is not text.`,
  ),
  broken(
    'key that is a list',
    swap(cap, 'name: Cap\n', 'name: Cap\n[a, b]: x\n'),
    `${cap}:5:1: This key is not text.`,
  ),
  broken(
    'key `__proto__`',
    swap(cap, 'name: Cap\n', 'name: Cap\n__proto__: { wall: 9 }\n'),
    `${cap}:5:1: \`__proto__\` cannot be used as a key.`,
  ),
  broken(
    'key `constructor`',
    swap(cap, '    width: 4\n', '    width: 4\n    constructor: x\n'),
    `${cap}:22:5: keepouts[0]: \`constructor\` cannot be used as a key.`,
  ),
  broken(
    'half a character',
    swap(cap, 'name: Cap', 'name: "\\ud83d"'),
    `${cap}:4:7: name: This text has half of a character (one surrogate of a pair).`,
  ),
  broken(
    '50 MB',
    (dir) => truncateSync(path.join(dir, cap), 50_000_000),
    `${cap}: The file is larger than 1 MB.`,
  ),
  broken(
    'very long key',
    swap(cap, 'name: Cap\n', `name: Cap\n${'k'.repeat(900)}: 1\n`),
    `${cap}:5:1: [\`${'k'.repeat(29)}…\`]: \`${'k'.repeat(59)}…\` is not a key of a part.`,
  ),
  broken(
    'key longer than YAML allows',
    swap(cap, 'name: Cap\n', `name: Cap\n${'k'.repeat(5000)}: 1\n`),
    `${cap}:5:1: This key is longer than 1024 characters.`,
  ),
];
