import { expect, it } from 'vitest';
import { svgToPng } from '../../src/sheets/png.js';
import { readbackPicture } from '../../src/sheets/readback-picture.js';
import { asXml, numbersIn } from './drawn.js';
import { canvas, capSurface } from './lantern-coast.js';

const step = (from: readonly [number, number, number], to: readonly [number, number, number]) => ({
  from: { z: from[0], angle: from[1], depth: from[2] },
  to: { z: to[0], angle: to[1], depth: to[2] },
});
const cuts = [{ steps: [step([10, 170, 0.1], [10, 190, 0.1]), step([10, 190, 0.1], [12, 190, 0.2])] }];

it('draws each move where it cuts and as wide as its depth leaves it', () => {
  const svg = readbackPicture(canvas, capSurface, cuts as never, (depth) => 2 * depth);
  const paths = [...asXml(svg).querySelectorAll('path')];
  expect(paths.map((p) => p.getAttribute('stroke-width'))).toEqual(['0.2', '0.4']);
  const [round, along] = paths.map((p) => numbersIn(p.getAttribute('d')!));
  // Arc length: 20 degrees of a ring of radius 6.3.
  expect(round![2]! - round![0]!).toBeCloseTo((6.3 * Math.PI) / 9, 3);
  expect(along![1]! - along![3]!).toBeCloseTo(2, 3);
  expect(round![3]).toBe(along![1]);
});

it('draws a program without a cut as a blank picture, and a picture at 40 dots to the mm', () => {
  const svg = readbackPicture(canvas, capSurface, [], () => 0);
  expect(asXml(svg).querySelectorAll('path')).toHaveLength(0);
  const png = Buffer.from(svgToPng(svg));
  expect(png.subarray(1, 4).toString()).toBe('PNG');
  expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([80, 80]);
});
