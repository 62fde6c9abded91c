import { readFileSync } from 'node:fs';
import type { Part } from '../../src/documents/schema/part.js';
import type { FitRequest, SizeRange } from '../../src/layout/fit.js';
import { zoneOf } from '../../src/layout/zone.js';
import { shapeLine } from '../../src/lettering/shaped-line.js';
import { strokeFont } from '../../src/lettering/stroke-font.js';
import { obstaclesOf } from '../../src/surface/keepouts.js';
import { surfaceOf } from '../../src/surface/part-surfaces.js';

const read = strokeFont('burin-plain', readFileSync('fonts/burin-plain.svg', 'utf8'));
if (!read.ok) throw new Error('The font burin-plain cannot be read.');
export const font = read.font;

/** A barrel with a clip, a band and a window, 40 mm long. */
export const barrel = (d0: number, d1: number): Part =>
  ({
    kind: 'part',
    version: 1,
    name: 'Barrel',
    material: 'silver',
    wall: 0.5,
    profile: [
      { z: 0, diameter: d0 },
      { z: 40, diameter: d1 },
    ],
    surfaces: [{ id: 's', from: 0, to: 40, clearance: 0.5 }],
    keepouts: [
      { kind: 'band', id: 'band', from: 1, to: 2, clearance: 0.3, height: 0 },
      {
        kind: 'clip',
        id: 'clip',
        from: 8,
        to: 40,
        angle: 0,
        width: Math.min(4, d0 / 2),
        shadow: 0.3,
        clearance: 0.3,
        height: 2,
      },
      {
        kind: 'window',
        id: 'window',
        clearance: 0.2,
        outline: [
          { z: 20, angle: 150 },
          { z: 20, angle: 200 },
          { z: 26, angle: 190 },
          { z: 26, angle: 160 },
        ],
      },
    ],
  }) as Part;

export interface Wish {
  readonly part?: Part;
  readonly size: SizeRange;
  readonly place?: {
    readonly z: number | [number, number];
    readonly angle: number | [number, number] | 'any';
  };
  readonly baseline?: 'ring' | 'lengthwise';
  readonly labels?: readonly string[];
}

/** A number to be fitted on the barrel. */
export function numberRequest({
  part = barrel(12, 12),
  size,
  place = { z: 14, angle: 90 },
  baseline = 'ring',
  labels = ['1/90', '88/90'],
}: Wish): FitRequest {
  const surface = surfaceOf(part, 's')!;
  const mark = { id: 'n', place, size, baseline, reading: 'up' } as const;
  return {
    surface,
    obstacles: obstaclesOf(part, part.surfaces[0]!, surface),
    mark,
    zone: zoneOf(mark as unknown as Parameters<typeof zoneOf>[0], part, surface),
    font,
    lines: labels.map((label) => ({ label, line: shapeLine(font, label, 'tabular') })),
    cutWidth: 0.1,
    where: 'mark n',
  };
}
