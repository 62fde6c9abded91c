import { type Broken, broken, type Spoil, swap } from './edit.js';

const cap = 'parts/cap.yaml';
const barrel = 'parts/barrel.yaml';

const outline = (...corners: [z: number, angle: number][]): Spoil =>
  swap(
    cap,
    '      - { z: 40, angle: 100 }\n      - { z: 40, angle: 130 }\n      - { z: 50, angle: 115 }\n',
    corners.map(([z, angle]) => `      - { z: ${z}, angle: ${angle} }\n`).join(''),
  );

/** Parts whose figures do not agree, or that name what is not there. */
export const brokenParts: Broken[] = [
  broken(
    'profile that turns back',
    swap(barrel, '  - z: 60\n', '  - z: -60\n'),
    `${barrel}:10:8: profile[1].z: z -60 is not past the point before it (z 0).`,
  ),
  broken(
    'profile that stands still',
    swap(cap, '{ z: 60, diameter: 14 }', '{ z: 0, diameter: 15 }'),
    `${cap}:9:10: profile[1].z: z 0 is not past the point before it (z 0).`,
  ),
  broken(
    'reversed surface',
    swap(barrel, '    from: 6\n    to: 58\n', '    from: 58\n    to: 6\n'),
    `${barrel}:17:9: surfaces[0].to: \`to\` (6) is not past \`from\` (58).`,
  ),
  broken(
    'surface past the end',
    swap(cap, '    to: 60\n', '    to: 60.5\n'),
    `${cap}:13:9: surfaces[0].to: z 60.5 is past the end of the part (z 60). Give a z inside the part.`,
  ),
  broken(
    'surface before the start',
    swap(cap, '    from: 0\n    to: 60\n', '    from: -1\n    to: 60\n'),
    `${cap}:12:11: surfaces[0].from: z -1 is before the start of the part (z 0).`,
  ),
  broken(
    'surface over a bend',
    swap(barrel, '    to: 58\n', '    to: 62\n'),
    `${barrel}:15:5: surfaces[0]: The profile is not straight from z 6 to 62: it bends at z 60.`,
  ),
  broken(
    'surface nearly flat',
    swap(
      barrel,
      '  - z: 66.5\n    diameter: 4\nsurfaces:\n',
      '  - z: 60.5\n    diameter: 4\nsurfaces:\n  - { id: nose, from: 60, to: 60.5 }\n',
    ),
    `${barrel}:15:5: surfaces[0]: The surface is a cone at 82.09 degrees to the axis, which is nearly flat.`,
  ),
  broken(
    'clearance that leaves nothing',
    swap(cap, '    to: 60\n    clearance: 0.5\n', '    to: 60\n    clearance: 30\n'),
    `${cap}:14:16: surfaces[0].clearance: A clearance of 30 mm at both edges leaves nothing of the 60 mm of the surface.`,
  ),
  broken(
    'surfaces that overlap',
    swap(cap, 'keepouts:\n', '  - { id: lip, from: 2, to: 5 }\nkeepouts:\n'),
    `${cap}:15:22: surfaces[1].from: The surface begins at z 2, before \`side\` ends (z 60).`,
  ),
  broken(
    'surfaces of one name',
    swap(barrel, 'keepouts:\n', '  - { id: taper, from: 0, to: 5 }\nkeepouts:\n'),
    `${barrel}:19:11: surfaces[1].id: An earlier entry has the id \`taper\`.`,
  ),
  broken(
    'keep-outs of one name',
    swap(cap, '    id: lip\n', '    id: clip\n'),
    `${cap}:25:9: keepouts[1].id: An earlier entry has the id \`clip\`.`,
  ),
  broken(
    'reversed keep-out',
    swap(cap, '    from: 0\n    to: 4\n', '    from: 4\n    to: 0\n'),
    `${cap}:27:9: keepouts[1].to: \`to\` (0) is not past \`from\` (4).`,
  ),
  broken(
    'keep-out past the end',
    swap(barrel, '    to: 5.5\n', '    to: 71\n'),
    `${barrel}:23:9: keepouts[0].to: z 71 is past the end of the part (z 66.5). Give a z inside the part.`,
  ),
  broken(
    'clip wider than the part is round',
    swap(cap, '    width: 4\n', '    width: 44\n'),
    `${cap}:21:12: keepouts[0].width: A clip 44 mm wide goes all round the part, which measures 43.982 mm round.`,
  ),
  broken(
    'window past the end',
    outline([40, 100], [40, 130], [61, 115]),
    `${cap}:34:14: keepouts[2].outline[2].z: z 61 is past the end of the part (z 60).`,
  ),
  broken(
    'window that crosses itself',
    outline([40, 100], [50, 130], [40, 130], [50, 100]),
    `${cap}:34:9: keepouts[2].outline[2]: The side that begins at this corner crosses or touches another side of the outline.`,
  ),
  broken(
    'window that folds back',
    outline([40, 100], [40, 130], [40, 110]),
    `${cap}:32:9: keepouts[2].outline[0]: The outline folds back on itself at this corner.`,
  ),
  broken(
    'window with a corner twice',
    outline([40, 100], [40, 130], [40, 130], [50, 115]),
    `${cap}:34:9: keepouts[2].outline[2]: This corner of the outline repeats the corner before it.`,
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
    `${barrel}:6:7: wall: A wall of 6 mm fills the part, whose radius is only 5.63 mm in places.`,
  ),
  broken(
    'material that is not there',
    swap(cap, 'material: silver', 'material: sliver'),
    `${cap}:5:11: material: There is no material \`sliver\`. Did you mean \`silver\`?`,
  ),
];
