import { append, type Broken, broken, swap } from './edit.js';

const cap = 'parts/cap.yaml';
const barrel = 'parts/barrel.yaml';
const drag = 'cutters/drag.yaml';
const level = 'stations/level.yaml';
const number = 'designs/cap-number.yaml';
const words = 'designs/barrel-line.yaml';
const tides = 'editions/tides.yaml';

const wall = (value: string, what: string, name: string): Broken =>
  broken(name, swap(cap, 'wall: 0.8', `wall: ${value}`), `${cap}:6:7: wall: ${what}`);

export const brokenValues: Broken[] = [
  wall('thin', 'This must be a number, but it is the text `thin`. Give a number.', 'word for a number'),
  wall(
    '0,8',
    'This must be a number, but it is the text `0,8`. Write the decimal with a point: `0.8`.',
    'decimal comma',
  ),
  wall(
    '0.8 mm',
    'This must be a number, but it is the text `0.8 mm`. Leave the unit out; lengths are in mm and angles in degrees: `0.8`.',
    'unit',
  ),
  wall(
    '"0.8"',
    'This must be a number, but it is the text `0.8`. Remove the quotes: `0.8`.',
    'number in quotes',
  ),
  wall('.nan', '`.nan` is not a finite number.', 'NaN'),
  wall('.inf', '`.inf` is not a finite number.', 'infinite'),
  wall('1e400', '`1e400` is not a finite number.', 'beyond every double'),
  wall('1e308', '`1e308` is too large. Give 1000 at most.', '1e308'),
  wall('-0.8', '-0.8 is too small. Give 0.001 at least.', 'negative length'),
  wall('0', '0 is too small. Give 0.001 at least.', 'no length'),
  wall('true', 'This must be a number, but it is `true`, which means yes.', 'yes or no for a number'),
  wall('[0.8]', 'This must be a number, but it is a list.', 'list for a number'),
  wall('{ mm: 0.8 }', 'This must be a number, but it is a mapping.', 'mapping for a number'),
  wall(`1${'0'.repeat(400)}`, `\`1${'0'.repeat(58)}…\` is not a finite number.`, 'four hundred digits'),
  broken('no value', swap(cap, 'wall: 0.8', 'wall:'), `${cap}:6:1: wall: There is no value here.`),
  broken(
    'negative diameter',
    swap(cap, '{ z: 60, diameter: 14 }', '{ z: 60, diameter: -14 }'),
    `${cap}:9:24: profile[1].diameter: -14 is too small.`,
  ),
  broken(
    'number for text',
    swap(cap, 'name: Cap', 'name: 14'),
    `${cap}:4:7: name: This must be text, but 14 is a number. Put it in quotes: \`"14"\`.`,
  ),
  broken(
    'number for text, whose digits count',
    swap(cap, 'name: Cap', 'name: 014.50'),
    `${cap}:4:7: name: This must be text, but 014.50 is a number. Put it in quotes: \`"014.50"\`.`,
  ),
  broken('empty text', swap(cap, 'name: Cap', "name: ''"), `${cap}:4:7: name: The text is empty.`),
  broken(
    'text too long',
    swap(cap, 'name: Cap', `name: ${'Cap '.repeat(40)}p`),
    `${cap}:4:7: name: The text has more than 120 characters.`,
  ),
  broken(
    'text of two lines',
    swap(cap, 'name: Cap', 'name: "Cap\\nhood"'),
    `${cap}:4:7: name: \`Cap\ufffdhood\` has a line break.`,
  ),
  broken(
    'escape character by its number',
    swap(cap, 'name: Cap', 'name: "\\e[2JCap"'),
    `${cap}:4:7: name: \`\ufffd[2JCap\` has a control character (U+001B).`,
  ),
  broken(
    'id with capitals',
    swap(cap, 'id: side', 'id: Outer Side'),
    `${cap}:11:9: surfaces[0].id: \`Outer Side\` is not an id. An id is at most 63 lower-case letters, digits and hyphens. Write it as \`outer-side\`.`,
  ),
  broken(
    'id that climbs out',
    swap(cap, 'material: silver', 'material: ../silver'),
    `${cap}:5:11: material: \`../silver\` is not an id. An id is at most 63 lower-case letters, digits and hyphens.`,
  ),
  broken(
    'text for a list',
    swap(number, 'marks:\n', 'marks: none\nmore:\n'),
    `${number}:5:8: marks: This must be a list, but it is the text \`none\`.`,
    { lines: 2 },
  ),
  broken(
    'entry that is not a mapping',
    swap(cap, '{ z: 60, diameter: 14 }', '60'),
    `${cap}:9:5: profile[1]: This must be a mapping of \`z\` and \`diameter\`, but it is the number 60.`,
  ),
  broken(
    'empty list',
    swap(tides, 'designs:\n  - cap-number\n  - barrel-line\n', 'designs: []\n'),
    `${tides}:4:10: designs: This list has fewer than 1 entry.`,
  ),
  broken(
    'unknown key',
    swap(cap, '    clearance: 0.5\nkeepouts', '    clearence: 0.5\nkeepouts'),
    `${cap}:14:5: surfaces[0].clearence: \`clearence\` is not a key of an entry of \`surfaces\`. Did you mean \`clearance\`?`,
  ),
  broken(
    'unknown key of a clip',
    swap(cap, '    shadow: 1.5\n', '    shaddow: 1.5\n'),
    `${cap}:22:5: keepouts[0].shaddow: \`shaddow\` is not a key of a clip. Did you mean \`shadow\`?`,
  ),
  broken(
    'unknown key at the top',
    append(cap, 'colour: blue\n'),
    `${cap}:35:1: colour: \`colour\` is not a key of a part. Remove it`,
  ),
  broken(
    'key of another shape',
    append(drag, 'speed: 9000\n'),
    `${drag}:9:1: speed: \`speed\` is not a key of a drag cutter.`,
  ),
  broken(
    'missing key',
    swap(cap, '    width: 4\n', ''),
    `${cap}:16:5: keepouts[0]: \`width\` is missing. Add \`width:\` with a number (across the clip, along the ring, mm).`,
  ),
  broken('missing key at the top', swap(cap, 'wall: 0.8\n', ''), `${cap}:2:1: \`wall\` is missing.`),
  broken(
    'missing kind',
    swap(cap, 'kind: part\n', ''),
    `${cap}:2:1: \`kind\` is missing. Begin with \`kind: part\`.`,
  ),
  broken('missing version', swap(cap, 'version: 1\n', ''), `${cap}:2:1: \`version\` is missing.`),
  broken(
    'later version',
    swap(cap, 'version: 1', 'version: 2'),
    `${cap}:3:10: version: This burin reads version 1 of the kind \`part\`, not version 2.`,
  ),
  broken(
    'version in quotes',
    swap(cap, 'version: 1', "version: '1'"),
    `${cap}:3:10: version: This burin reads version 1 of the kind \`part\`, not version \`1\`.`,
  ),
  broken(
    'kind of another folder',
    swap(cap, 'kind: part', 'kind: material'),
    `${cap}:2:7: kind: The kind of this document is \`material\`, but parts/ is for the kind \`part\`.`,
  ),
  broken(
    'kind misspelt',
    swap(cap, 'kind: part', 'kind: prat'),
    `${cap}:2:7: kind: \`prat\` is not a kind of document. Did you mean \`part\`?`,
  ),
  broken(
    'kind that is a list',
    swap(cap, 'kind: part', 'kind: [part]'),
    `${cap}:2:7: kind: A list is not a kind of document.`,
  ),
  broken(
    'choice misspelt',
    swap(number, 'baseline: ring', 'baseline: rign'),
    `${number}:9:15: marks[0].baseline: \`rign\` is not one of the choices. Did you mean \`ring\`?`,
  ),
  broken(
    'choice that is a number',
    swap(level, 'setup: level', 'setup: 2'),
    `${level}:4:8: setup: 2 is not one of the choices. Write \`level\` or \`tilted\`.`,
  ),
  broken(
    'keep-out of no kind',
    swap(cap, '  - kind: band\n    id: lip\n', '  - id: lip\n'),
    `${cap}:24:5: keepouts[1]: \`kind\` is missing. Add \`kind:\` with \`clip\`, \`band\`, \`thread\` or \`window\`.`,
  ),
  broken(
    'keep-out of an unknown kind',
    swap(cap, 'kind: window', 'kind: windwo'),
    `${cap}:28:11: keepouts[2].kind: \`windwo\` is not one of the choices. Did you mean \`window\`?`,
  ),
  broken(
    'cutter of no shape',
    swap(drag, 'shape: drag\n', ''),
    `${drag}:1:1: \`shape\` is missing. Add \`shape:\` with \`drag\``,
  ),
  broken(
    'cutter of an unknown shape',
    swap(drag, 'shape: drag', 'shape: drill'),
    `${drag}:4:8: shape: \`drill\` is not one of the choices.`,
  ),
  broken(
    'inscription without words',
    swap(words, '    text: Ebb and flow\n', ''),
    `${words}:6:5: marks[0]: \`text\` is missing.`,
  ),
  broken(
    'words on a number',
    swap(number, '    kind: number\n', '    kind: number\n    text: x\n'),
    `${number}:8:5: marks[0].text: \`text\` is not a key of a number mark.`,
  ),
  broken(
    'place.z that is a word',
    swap(number, 'z: 8,', 'z: low,'),
    `${number}:10:17: marks[0].place.z: This must be a number or a pair of numbers such as [10, 20], but it is the text \`low\`.`,
  ),
  broken(
    'place.z of three',
    swap(words, 'z: [10, 50]', 'z: [10, 30, 50]'),
    `${words}:13:10: marks[0].place.z: This list is not a pair. Give a pair of numbers such as [10, 20].`,
  ),
  broken(
    'place.z of one',
    swap(words, 'z: [10, 50]', 'z: [10]'),
    `${words}:13:10: marks[0].place.z: This list is not a pair. Give a pair of numbers such as [10, 20].`,
  ),
  broken(
    'place.z with a word in the pair',
    swap(words, 'z: [10, 50]', 'z: [10, top]'),
    `${words}:13:15: marks[0].place.z[1]: This must be a number, but it is the text \`top\`.`,
  ),
  broken(
    'place.angle misspelt',
    swap(words, 'angle: any', 'angle: ayn'),
    `${words}:28:14: marks[1].place.angle: This must be a number, a pair of numbers such as [10, 20] or \`any\`, but it is the text \`ayn\`. Did you mean \`any\`?`,
  ),
  broken(
    'size with half a range',
    swap(words, '      max: 3.5\n', ''),
    `${words}:17:7: marks[0].size: \`max\` is missing.`,
  ),
  broken(
    'size with an unknown key',
    swap(words, '      max: 3.5\n', '      max: 3.5\n      mid: 3\n'),
    `${words}:19:7: marks[0].size.mid: \`mid\` is not a key of \`size\`.`,
  ),
  broken(
    'size that is a word',
    swap(number, 'size: 1.8', 'size: large'),
    `${number}:12:11: marks[0].size: This must be a number or a mapping of \`min\` and \`max\`, but it is the text \`large\`.`,
  ),
  broken(
    'part of a number',
    swap(tides, 'to: 40', 'to: 40.5'),
    `${tides}:10:9: series[0].to: 40.5 is not a whole number.`,
  ),
  broken(
    'number past counting',
    swap(tides, 'to: 40', 'to: 100000000000000000000'),
    `${tides}:10:9: series[0].to: 100000000000000000000 is too large. Give 99999 at most.`,
  ),
  broken(
    'figures that are no figures',
    swap(tides, "containing: '4'", 'containing: four'),
    `${tides}:16:21: series[0].exclude[1].containing: \`four\` is not made of digits.`,
  ),
  broken(
    'figures without quotes',
    swap(tides, "containing: '4'", 'containing: 4'),
    `${tides}:16:21: series[0].exclude[1].containing: This must be text, but 4 is a number. Put it in quotes: \`"4"\`.`,
  ),
  broken(
    'sign of two',
    swap(level, 'x: { sign: 1,', 'x: { sign: 2,'),
    `${level}:6:14: axes.x.sign: This must be \`1\` or \`-1\`, but it is the number 2.`,
  ),
  ...(
    [
      ['M3', 0],
      ['M3 S0', 0],
      ['M3\n  - S12000', 0],
      ['S12000\n  - S0\n  - G54 M3', 2],
    ] as const
  ).map(([lines, at]) =>
    broken(
      `spindle started without a speed: ${lines}`,
      swap(level, '  - G54\n', `  - ${lines}\n`),
      `${level}:${14 + at}:5: before[${at}]: This line starts the spindle, but no speed is set.`,
    ),
  ),
  broken(
    'line that moves an axis',
    swap(level, '  - G54\n', '  - G1 F100\n'),
    `${level}:14:5: before[0]: \`G1 F100\` moves an axis or changes the units, distance mode or feed mode. Only burin may do that.`,
  ),
  broken(
    'line with an axis word',
    swap(level, '  - G54\n', '  - G54 X10\n'),
    `${level}:14:5: before[0]: \`G54 X10\` is not a line of words for a control.`,
  ),
  broken(
    'font id with capitals',
    append('workshop.yaml', 'fonts:\n  My Font: { file: a.ttf }\n'),
    'workshop.yaml:6:3: fonts[`My Font`]: `My Font` is not an id. An id is at most 63 lower-case letters, digits and hyphens.',
  ),
  broken(
    'mark of a wild value',
    swap(barrel, 'wall: 1.6', `wall: ${'9'.repeat(300)}x`),
    `${barrel}:6:7: wall: This must be a number, but it is the text \`${'9'.repeat(59)}…\`.`,
  ),
];
