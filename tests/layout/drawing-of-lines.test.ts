import { expect, test } from 'vitest';
import { motifSetting, readArtwork } from '../../src/artwork/artwork.js';
import { motifKey } from '../../src/artwork/motif-key.js';
import { type MarkSources, marksToFit } from '../../src/layout/mark-to-fit.js';
import { Refusal } from '../../src/problem.js';
import { surfaceOf } from '../../src/surface/part-surfaces.js';
import { barrel } from './requests.js';

/** The codes of what keeps a drawing from being fitted. */
function codesFor(way: string, attributes: string, repeat?: object): string[] {
  const svg = `<svg xmlns="http://www.w3.org/2000/svg"><path d="M0 0L4 0L2 3Z" ${attributes}/></svg>`;
  const read = readArtwork('leaf', new TextEncoder().encode(svg), 'leaf.svg');
  if (!read.ok) throw new Error('The drawing cannot be read.');
  const part = barrel(12, 12);
  const surface = surfaceOf(part, 's')!;
  const mark = {
    ...{ id: 'm', kind: 'motif', artwork: 'leaf', surface: 's', place: { z: 20, angle: 0 }, size: 2, way },
    ...{ strokes: 'line', meets: 'refuse', cutter: 'c', depth: 0.1, ...(repeat ? { repeat } : {}) },
  };
  const sources = {
    designs: [
      {
        id: 'd',
        design: { part: 'p', marks: [mark] },
        part,
        surfaces: new Map([['s', { surface, obstacles: [], proud: { level: 0, tilted: 0 } }]]),
      },
    ],
    cutters: new Map([['c', { shape: 'cone', tip: 0.1, angle: 40 }]]),
    fonts: new Map(),
    motifs: new Map([[motifKey('leaf', 'line'), motifSetting(read.artwork, 'line')!]]),
    labels: [],
  } as unknown as MarkSources;
  try {
    marksToFit(sources);
    return [];
  } catch (error) {
    if (error instanceof Refusal) return error.problems.map((p) => p.code);
    throw error;
  }
}

const LINES = 'fill="none" stroke="black" stroke-width="0.2"';

test.each(['clear', 'groove'])('a drawing of lines alone has no area to %s', (way) => {
  expect(codesFor(way, LINES)).toEqual(['layout.drawing-without-areas']);
  expect(codesFor(way, LINES, { count: 6 })).toEqual(['layout.drawing-without-areas']);
  expect(codesFor(way, `${LINES.replace('none', 'black')}`)).toEqual([]);
  expect(codesFor('trace', LINES)).toEqual([]);
});
