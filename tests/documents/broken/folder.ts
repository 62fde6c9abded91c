import { execFileSync } from 'node:child_process';
import { chmodSync, mkdirSync, renameSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { append, type Broken, both, broken, type Spoil } from './edit.js';

const cap = 'parts/cap.yaml';
const font = (file: string): Spoil =>
  append('workshop.yaml', `fonts:\n  engraver:\n    file: ${JSON.stringify(file)}\n`);
const put =
  (file: string): Spoil =>
  (dir) => {
    mkdirSync(path.dirname(path.join(dir, file)), { recursive: true });
    writeFileSync(path.join(dir, file), 'x');
  };
const link =
  (target: string, file: string): Spoil =>
  (dir) => {
    rmSync(path.join(dir, file), { force: true, recursive: true });
    symlinkSync(target, path.join(dir, file));
  };
const rename =
  (from: string, to: string): Spoil =>
  (dir) =>
    renameSync(path.join(dir, from), path.join(dir, to));

const fontFile = 'workshop.yaml:7:11: fonts.engraver.file: ';

export const brokenFolder: Broken[] = [
  broken(
    'no workshop.yaml',
    (dir) => rmSync(path.join(dir, 'workshop.yaml')),
    'workshop.yaml: The file does not exist.',
  ),
  broken(
    '.yml',
    rename('parts/barrel.yaml', 'parts/barrel.yml'),
    'parts/barrel.yml: Documents end in `.yaml`.',
  ),
  broken(
    '.YAML',
    rename('stations/level.yaml', 'stations/level.YAML'),
    'stations/level.YAML: Documents end in `.yaml`.',
  ),
  broken(
    'file name that is no id',
    rename('stations/level.yaml', 'stations/Long Bed.yaml'),
    'stations/Long Bed.yaml: The name `Long Bed` is not an id. An id is at most 63 lower-case letters, digits and hyphens.',
  ),
  broken(
    'file name with a control character',
    put('stations/a\u001bb.yaml'),
    'stations/a\ufffdb.yaml: The name `a\ufffdb` is not an id',
  ),
  broken(
    'folder where a file should be',
    (dir) => mkdirSync(path.join(dir, 'parts/hood.yaml')),
    'parts/hood.yaml: There is a folder where a file should be.',
  ),
  broken(
    'file where a folder should be',
    both((dir) => rmSync(path.join(dir, 'stations'), { recursive: true }), put('stations')),
    'stations: There is a file where a folder should be.',
  ),
  broken(
    'link to a file outside',
    link('/etc/hostname', 'parts/hood.yaml'),
    'parts/hood.yaml: The file is a link that leaves the workshop.',
  ),
  broken(
    'link to a device',
    link('/dev/zero', 'parts/hood.yaml'),
    'parts/hood.yaml: The file is a link that leaves the workshop.',
  ),
  broken(
    'link to a folder outside',
    link('/usr', 'stations'),
    'stations: The folder is a link that leaves the workshop.',
  ),
  broken(
    'link to nothing',
    link('nowhere.yaml', 'parts/hood.yaml'),
    'parts/hood.yaml: The file does not exist.',
  ),
  broken(
    'link to itself',
    link('hood.yaml', 'parts/hood.yaml'),
    'parts/hood.yaml: The file is a link that leads to itself.',
  ),
  broken(
    'pipe',
    (dir) => void execFileSync('mkfifo', [path.join(dir, 'parts/hood.yaml')]),
    'parts/hood.yaml: This is not an ordinary file.',
  ),
  broken(
    'file that may not be read',
    (dir) => chmodSync(path.join(dir, cap), 0),
    `${cap}: The file may not be read.`,
    { unlessRoot: true },
  ),
  broken(
    'font outside, upward',
    font('../font.ttf'),
    `${fontFile}\`../font.ttf\` is not a path inside the workshop.`,
  ),
  broken(
    'font outside, by the middle',
    font('fonts/../../font.ttf'),
    `${fontFile}\`fonts/../../font.ttf\` is not a path inside the workshop.`,
  ),
  broken(
    'font outside, from the root',
    font('/usr/share/fonts/font.ttf'),
    `${fontFile}\`/usr/share/fonts/font.ttf\` is not a path inside`,
  ),
  broken(
    'font outside, with a drive',
    font('C:/fonts/font.ttf'),
    `${fontFile}\`C:/fonts/font.ttf\` is not a path inside`,
  ),
  broken(
    'font path with backslashes',
    font('fonts\\font.ttf'),
    `${fontFile}\`fonts\\font.ttf\` has backslashes.`,
  ),
  broken(
    'font outside, by a link',
    both(font('engraver.ttf'), link('/etc/hostname', 'engraver.ttf')),
    `${fontFile}engraver.ttf: The file is a link that leaves the workshop.`,
  ),
  broken(
    'font that is not there',
    font('fonts/engraver.otf'),
    `${fontFile}fonts/engraver.otf: The file does not exist.`,
  ),
  broken(
    'font that is a folder',
    both(font('fonts.otf'), (dir) => mkdirSync(path.join(dir, 'fonts.otf'))),
    `${fontFile}fonts.otf: There is a folder where a file should be.`,
  ),
  broken(
    'WOFF2 font',
    both(font('fonts/engraver.woff2'), put('fonts/engraver.woff2')),
    `${fontFile}burin does not read WOFF2 files.`,
  ),
  broken(
    'font of another form',
    font('fonts/engraver.svg'),
    `${fontFile}\`fonts/engraver.svg\` is not a TTF, OTF or WOFF file.`,
  ),
];
