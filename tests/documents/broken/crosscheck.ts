import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { append, type Broken, both, broken, type Spoil, swap, write } from './edit.js';

const cap = 'parts/cap.yaml';
const barrel = 'parts/barrel.yaml';
const cone = 'cutters/cone.yaml';
const level = 'stations/level.yaml';
const tilted = 'stations/tilted.yaml';
const number = 'designs/cap-number.yaml';
const words = 'designs/barrel-line.yaml';
const tides = 'editions/tides.yaml';

const outline = (...corners: [z: number, angle: number][]): Spoil =>
  swap(
    cap,
    '      - { z: 40, angle: 100 }\n      - { z: 40, angle: 130 }\n      - { z: 50, angle: 115 }\n',
    corners.map(([z, angle]) => `      - { z: ${z}, angle: ${angle} }\n`).join(''),
  );
const place = (text: string): Spoil => swap(number, '{ z: 8, opposite: clip }', `{ ${text} }`);
const beam = write(
  'cutters/cone.yaml',
  'kind: cutter\nversion: 1\nname: Beam\nshape: beam\nfeed: 600\nplunge: 600\ndepth: 0.4\nwidth: 0.1\n',
);

const parts: Broken[] = [
  broken(
    'profile that turns back',
    swap(barrel, '  - z: 60\n', '  - z: -60\n'),
    `${barrel}:10:8: profile[1].z: -60 is not past the station before it (0).`,
  ),
  broken(
    'profile that stands still',
    swap(cap, '{ z: 60, diameter: 14 }', '{ z: 0, diameter: 15 }'),
    `${cap}:9:10: profile[1].z: 0 is not past the station before it (0).`,
  ),
  broken(
    'reversed surface',
    swap(barrel, '    from: 6\n    to: 58\n', '    from: 58\n    to: 6\n'),
    `${barrel}:17:9: surfaces[0].to: \`to\` (6) is not past \`from\` (58).`,
  ),
  broken(
    'surface past the end',
    swap(cap, '    to: 60\n', '    to: 60.5\n'),
    `${cap}:13:9: surfaces[0].to: 60.5 is past the end of the part (60). Give a z inside the part.`,
  ),
  broken(
    'surface before the start',
    swap(cap, '    from: 0\n    to: 60\n', '    from: -1\n    to: 60\n'),
    `${cap}:12:11: surfaces[0].from: -1 is before the start of the part (0).`,
  ),
  broken(
    'surface over a bend',
    swap(barrel, '    to: 58\n', '    to: 62\n'),
    `${barrel}:15:5: surfaces[0]: The profile is not straight from 6 to 62: it bends at z 60.`,
  ),
  broken(
    'surface nearly flat',
    swap(
      barrel,
      '  - z: 66.5\n    diameter: 4\nsurfaces:\n',
      '  - z: 60.5\n    diameter: 4\nsurfaces:\n  - { id: nose, from: 60, to: 60.5 }\n',
    ),
    `${barrel}:15:5: surfaces[0]: The surface is a cone of 82.0928 degrees to the axis, nearly flat.`,
  ),
  broken(
    'clearance that leaves nothing',
    swap(cap, '    to: 60\n    clearance: 0.5\n', '    to: 60\n    clearance: 30\n'),
    `${cap}:14:16: surfaces[0].clearance: A clearance of 30 at both edges leaves nothing of 60 mm.`,
  ),
  broken(
    'surfaces that overlap',
    swap(cap, 'keepouts:\n', '  - { id: lip, from: 2, to: 5 }\nkeepouts:\n'),
    `${cap}:15:22: surfaces[1].from: The surface begins at 2, before \`side\` ends (60).`,
  ),
  broken(
    'surfaces of one name',
    swap(barrel, 'keepouts:\n', '  - { id: taper, from: 0, to: 5 }\nkeepouts:\n'),
    `${barrel}:19:11: surfaces[1].id: The id \`taper\` is taken by an earlier entry.`,
  ),
  broken(
    'keep-outs of one name',
    swap(cap, '    id: lip\n', '    id: clip\n'),
    `${cap}:25:9: keepouts[1].id: The id \`clip\` is taken by an earlier entry.`,
  ),
  broken(
    'reversed keep-out',
    swap(cap, '    from: 0\n    to: 4\n', '    from: 4\n    to: 0\n'),
    `${cap}:27:9: keepouts[1].to: \`to\` (0) is not past \`from\` (4).`,
  ),
  broken(
    'keep-out past the end',
    swap(barrel, '    to: 5.5\n', '    to: 71\n'),
    `${barrel}:23:9: keepouts[0].to: 71 is past the end of the part (66.5). Give a z inside the part.`,
  ),
  broken(
    'clip wider than the part is round',
    swap(cap, '    width: 4\n', '    width: 44\n'),
    `${cap}:21:12: keepouts[0].width: A clip 44 wide goes right round the part (43.9823 mm).`,
  ),
  broken(
    'window past the end',
    outline([40, 100], [40, 130], [61, 115]),
    `${cap}:34:14: keepouts[2].outline[2].z: 61 is past the end of the part (60).`,
  ),
  broken(
    'window that crosses itself',
    outline([40, 100], [50, 130], [40, 130], [50, 100]),
    `${cap}:34:9: keepouts[2].outline[2]: The outline crosses or touches itself on the side that begins at this corner.`,
  ),
  broken(
    'window that folds back',
    outline([40, 100], [40, 130], [40, 110]),
    `${cap}:32:9: keepouts[2].outline[0]: The outline folds back on itself at this corner.`,
  ),
  broken(
    'window with a corner twice',
    outline([40, 100], [40, 130], [40, 130], [50, 115]),
    `${cap}:34:9: keepouts[2].outline[2]: The outline repeats the corner before at this corner.`,
  ),
  broken(
    'window that jumps the seam',
    outline([40, 350], [40, 10], [50, 0]),
    `${cap}:33:25: keepouts[2].outline[1].angle: The outline jumps half a turn or more to this corner (10 degrees).`,
  ),
  broken(
    'window all round',
    outline([40, 0], [40, 120], [40, 240], [40, 360], [50, 240], [50, 120]),
    `${cap}:32:7: keepouts[2].outline: The outline spans 360 degrees, a whole turn or more.`,
  ),
  broken(
    'wall thicker than the part',
    swap(barrel, 'wall: 1.6', 'wall: 6'),
    `${barrel}:6:7: wall: A wall of 6 fills the part, whose radius comes down to 5.63.`,
  ),
  broken(
    'material that is not there',
    swap(cap, 'material: silver', 'material: sliver'),
    `${cap}:5:11: material: There is no material \`sliver\`. Did you mean \`silver\`?`,
  ),
];

const designs: Broken[] = [
  broken(
    'part that is not there',
    swap(number, 'part: cap', 'part: hood'),
    `${number}:4:7: part: There is no part \`hood\`. Use \`barrel\` or \`cap\`.`,
  ),
  broken(
    'surface that is not there',
    swap(number, 'surface: side', 'surface: sied'),
    `${number}:8:14: marks[0].surface: There is no surface of this part \`sied\`. Did you mean \`side\`?`,
  ),
  broken(
    'marks of one name',
    swap(words, '  - id: number\n', '  - id: words\n'),
    `${words}:22:9: marks[1].id: The id \`words\` is taken by an earlier entry.`,
  ),
  broken(
    'cutter that is not there',
    swap(number, 'cutter: drag', 'cutter: darg'),
    `${number}:13:13: marks[0].cutter: There is no cutter \`darg\`. Did you mean \`drag\`?`,
  ),
  broken(
    'font that is not known',
    swap(number, 'font: burin-plain', 'font: burin-plian'),
    `${number}:11:11: marks[0].font: There is no font \`burin-plian\`. Did you mean \`burin-plain\`?`,
  ),
  broken(
    'font that every object has',
    swap(number, 'font: burin-plain', 'font: constructor'),
    `${number}:11:11: marks[0].font: There is no font \`constructor\`.`,
  ),
  broken(
    'own font of a name taken',
    both(append('workshop.yaml', 'fonts:\n  burin-plain: { file: a.ttf }\n'), write('a.ttf', 'x')),
    'workshop.yaml:6:3: fonts.burin-plain: burin carries a font `burin-plain` already.',
  ),
  broken(
    'z off the surface',
    place('z: 60.5, opposite: clip'),
    `${number}:10:17: marks[0].place.z: 60.5 is not on the surface \`side\`. Give a z from 0 to 60.`,
  ),
  broken(
    'zone off the surface',
    swap(words, 'z: [10, 50]', 'z: [10, 59]'),
    `${words}:13:15: marks[0].place.z[1]: 59 is not on the surface \`taper\`. Give a z from 6 to 58.`,
  ),
  broken(
    'zone that falls',
    swap(words, 'z: [10, 50]', 'z: [50, 10]'),
    `${words}:13:10: marks[0].place.z: The zone runs from 50 to 10, which does not rise.`,
  ),
  broken(
    'angle zone that falls',
    swap(words, 'angle: [60, 300]', 'angle: [300, 60]'),
    `${words}:14:14: marks[0].place.angle: The zone runs from 300 to 60, which does not rise.`,
  ),
  broken(
    'angle zone of a whole turn',
    swap(words, 'angle: [60, 300]', 'angle: [0, 360]'),
    `${words}:14:14: marks[0].place.angle: The zone spans 360 degrees, a whole turn or more. Write \`any\``,
  ),
  broken(
    'no angle',
    place('z: 8'),
    `${number}:10:12: marks[0].place: Neither \`angle\` nor \`opposite\` is given.`,
  ),
  broken(
    'angle twice over',
    place('z: 8, angle: 180, opposite: clip'),
    `${number}:10:12: marks[0].place: \`angle\` and \`opposite\` are both given.`,
  ),
  broken(
    'opposite nothing',
    place('z: 8, opposite: clasp'),
    `${number}:10:30: marks[0].place.opposite: There is no clip or window of this part \`clasp\`. Use \`clip\` or \`crown\`.`,
  ),
  broken(
    'opposite a band',
    place('z: 8, opposite: lip'),
    `${number}:10:30: marks[0].place.opposite: \`lip\` is a band and goes all round`,
  ),
  broken(
    'size range that falls',
    swap(words, '      min: 2\n      max: 3.5\n', '      min: 3.5\n      max: 2\n'),
    `${words}:18:12: marks[0].size.max: \`max\` (2) is less than \`min\` (3.5).`,
  ),
  broken(
    'deeper than the cutter',
    swap(words, 'depth: 0.3', 'depth: 0.5'),
    `${words}:21:12: marks[0].depth: 0.5 is deeper than \`cone\` cuts (0.4).`,
  ),
  broken(
    'line as wide as the letter',
    swap(cone, 'angle: 40', 'angle: 150'),
    `${words}:21:12: marks[0].depth: The line is 2.3392 wide at this depth, more than half the letter (2).`,
    { lines: 2 },
  ),
  broken(
    'too little wall left',
    swap(barrel, 'wall: 1.6', 'wall: 0.5'),
    `${words}:21:12: marks[0].depth: 0.3 leaves less than two fifths of the wall (0.5).`,
  ),
  broken(
    'beam on celluloid',
    both(beam, swap('materials/resin.yaml', 'family: resin', 'family: celluloid')),
    `${words}:20:13: marks[0].cutter: \`cone\` is a beam and \`resin\` is celluloid, which burns fast`,
    { lines: 2 },
  ),
];

const editions: Broken[] = [
  broken(
    'design that is not there',
    swap(tides, '  - cap-number\n', '  - cap-nmuber\n'),
    `${tides}:5:5: designs[0]: There is no design \`cap-nmuber\`. Did you mean \`cap-number\`?`,
  ),
  broken(
    'design listed twice',
    swap(tides, '  - barrel-line\n', '  - cap-number\n'),
    `${tides}:6:5: designs[1]: The design \`cap-number\` is listed twice.`,
  ),
  broken(
    'series of one name',
    swap(tides, 'id: proofs', 'id: main'),
    `${tides}:18:9: series[1].id: The id \`main\` is taken by an earlier entry.`,
  ),
  broken(
    'reversed series',
    swap(tides, '    to: 40\n', '    from: 50\n    to: 40\n'),
    `${tides}:11:9: series[0].to: \`to\` (40) is before \`from\` (50).`,
  ),
  broken(
    'roman past 3999',
    swap(tides, '    to: 5\n', '    to: 4000\n'),
    `${tides}:20:9: series[1].to: Roman figures are written to 3999 here, not 4000.`,
  ),
  broken(
    'roman total past 3999',
    swap(tides, '    total:\n      joiner: /\n', '    total: { joiner: /, of: 4000 }\n'),
    `${tides}:23:29: series[1].total.of: Roman figures are written to 3999 here, not 4000.`,
  ),
  broken(
    'roman filled with 0',
    swap(tides, '    figures: roman\n', '    figures: roman\n    pad: 2\n'),
    `${tides}:22:10: series[1].pad: Roman figures are not filled with 0.`,
  ),
  broken(
    'pad too short',
    swap(tides, '    to: 40\n    pad: 2\n    total: { joiner: /, of: 40 }\n', '    to: 400\n    pad: 2\n'),
    `${tides}:11:10: series[0].pad: 400 has more figures than \`pad\` (2) makes room for.`,
  ),
  broken(
    'total short of the series',
    swap(tides, 'of: 40', 'of: 39'),
    `${tides}:12:29: series[0].total.of: The stated total (39) is less than the last number (40).`,
  ),
  broken(
    'exclusion off the series',
    swap(tides, '[13]', '[13, 41]'),
    `${tides}:14:23: series[0].exclude[0].numbers[1]: 41 is not in the series (1 to 40).`,
  ),
  broken(
    'number excluded twice',
    swap(tides, '[13]', '[13, 13]'),
    `${tides}:14:23: series[0].exclude[0].numbers[1]: 13 is listed twice.`,
  ),
  broken(
    'exclusion of both sorts',
    swap(tides, "      - containing: '4'\n", "      - containing: '4'\n        numbers: [14]\n"),
    `${tides}:16:9: series[0].exclude[1]: \`numbers\` and \`containing\` are both given.`,
  ),
  broken(
    'exclusion of no sort',
    swap(tides, '      - numbers: [13]\n        why', '      - why'),
    `${tides}:14:9: series[0].exclude[0]: Neither \`numbers\` nor \`containing\` is given.`,
  ),
  broken(
    'every number excluded',
    swap(
      tides,
      '    figures: roman\n',
      '    figures: roman\n    exclude: [{ numbers: [1, 2, 3, 4, 5], why: none }]\n',
    ),
    `${tides}:22:14: series[1].exclude: No number of the series is left.`,
  ),
  broken(
    'edition of nothing',
    both(
      (dir) => mkdirSync(path.join(dir, 'editions'), { recursive: true }),
      (dir) =>
        writeFileSync(
          path.join(dir, 'editions/other.yaml'),
          'kind: edition\nversion: 1\nname: Other\ndesigns: [cap-number]\nseries: []\n',
        ),
    ),
    'editions/other.yaml:5:9: series: This list has fewer than 1 entry.',
  ),
];

const stations: Broken[] = [
  broken(
    'reversed travel',
    swap(level, 'min: -10, max: 220', 'min: 220, max: -10'),
    `${level}:6:43: axes.x.max: \`max\` (-10) is not above \`min\` (220).`,
  ),
  broken(
    'half a limit',
    swap(tilted, '    max: 720\n', ''),
    `${tilted}:13:10: axes.a.min: \`min\` stands without \`max\`.`,
  ),
  broken(
    'safe height below the approach',
    swap(tilted, 'safe: 4', 'safe: 0.4'),
    `${tilted}:20:7: safe: \`safe\` (0.4) is not above \`approach\` (0.4).`,
  ),
];

export const brokenCrosscheck: Broken[] = [...parts, ...designs, ...editions, ...stations];
