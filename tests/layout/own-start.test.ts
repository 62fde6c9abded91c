import { expect, test } from 'vitest';
import { flatten } from '../../src/geometry/flatten.js';
import { type FitRequest, fitMark } from '../../src/layout/fit.js';
import {
  centreGlyphs,
  placeGlyph,
  placeOnSheet,
  type TextDirection,
} from '../../src/layout/glyph-placement.js';
import { markLimits } from '../../src/layout/phrases.js';
import { shapeBlock } from '../../src/lettering/text-block.js';
import type { Place } from '../../src/surface/surface.js';
import { barrel, font, numberRequest } from './requests.js';

/** Places on the part along all letters of a request, the angle counted on through the seam. */
function inkOf({ lines, surface, mark }: FitRequest, size: number, at: Place) {
  return centreGlyphs(lines[0]!.line).flatMap((one) => {
    const { turn, rotation, x, y, glyph } = placeGlyph(surface, one, size, mark, at);
    return flatten(glyph.path, size, 0.001).flatMap(({ points }) => {
      const placed = placeOnSheet(points, rotation, x, y);
      return Array.from({ length: placed.length / 2 }, (_, i) => {
        const { z, angle } = surface.toSurfaceNear(placed[2 * i]!, placed[2 * i + 1]!);
        return { z, r: surface.radius(z), angle: angle + turn };
      });
    });
  });
}

/** How near ink comes to the same ink a whole turn on, mm, measured between the corners of its lines. */
function acrossSeam(request: FitRequest, size: number, at: Place): number {
  const ink = inkOf(request, size, at);
  let near = Number.POSITIVE_INFINITY;
  for (const p of ink)
    for (const q of ink) {
      const round = ((q.angle - p.angle - 360) * Math.PI * Math.min(p.r, q.r)) / 180;
      near = Math.min(near, Math.hypot(round, q.z - p.z));
    }
  return near;
}

const TWELVE = Array.from({ length: 12 }, (_, i) => `ROW ${i + 1}H`);

function blockRequest(
  rows: readonly string[],
  size: FitRequest['mark']['size'],
  more: Partial<TextDirection>,
  ends: readonly [number, number] = [12, 10],
): FitRequest {
  const line = shapeBlock(font, rows, {
    digits: 'tabular',
    spacing: 0,
    leading: 1.5,
    align: 'left',
  });
  const request = numberRequest({
    part: { ...barrel(...ends), keepouts: [] },
    size,
    place: { z: 20, angle: 0 },
  });
  return { ...request, mark: { ...request.mark, ...more }, lines: [{ label: rows.join(' '), line }] };
}

const LENGTHWISE = { baseline: 'lengthwise' } as const;
const OWN_START = markLimits.phrase('layout.own-start', {});

test('rows lengthwise that go more than once round the ring together are refused for their own start', () => {
  const request = blockRequest(TWELVE, 2.2, LENGTHWISE);
  const fit = fitMark(request);
  if (fit.ok) throw new Error('it fits');
  expect(fit.smallest.limit.obstacle).toEqual(OWN_START);
  const [change] = fit.nearest;
  if (change?.change !== 'size') throw new Error('no size that fits');
  expect(change.size).toBeGreaterThan(1.7);
  const smaller = { ...request, mark: { ...request.mark, size: change.size } };
  expect(fitMark(smaller).ok).toBe(true);
  expect(acrossSeam(smaller, change.size, fit.smallest.at)).toBeGreaterThanOrEqual(request.cutWidth);
});

test.each([
  [12, 12],
  [12, 9],
  [9, 12],
  [16, 3],
])(
  'a range gives the largest size that keeps clear of its own start, from %d mm to %d mm across',
  (...ends) => {
    const request = blockRequest(TWELVE, { min: 0.2, max: 3 }, LENGTHWISE, ends as [number, number]);
    const fit = fitMark(request);
    if (!fit.ok) throw new Error('it does not fit');
    expect(fit.larger.limit.obstacle).toEqual(OWN_START);
    const near = acrossSeam(request, fit.size, fit.at);
    expect(near).toBeGreaterThanOrEqual(request.cutWidth);
  },
);

test('rows lengthwise move to the wide end of a cone, where they may be larger', () => {
  const [low, fixed] = [[8, 32] as [number, number], 20].map((z) => {
    const request = blockRequest(TWELVE, { min: 0.2, max: 3 }, LENGTHWISE, [12, 9]);
    const moved = {
      ...request,
      zone: { ...request.zone, z: typeof z === 'number' ? [z, z] : z },
    } as FitRequest;
    const fit = fitMark(moved);
    if (!fit.ok) throw new Error('it does not fit');
    return fit;
  });
  expect(low!.size).toBeGreaterThan(fixed!.size);
  expect(low!.at.z).toBeLessThan(10);
});

test('a single letter taller than the ring is refused lengthwise', () => {
  const request = blockRequest(['O'], { min: 10, max: 38 }, LENGTHWISE, [6, 6]);
  const fit = fitMark(request);
  if (!fit.ok) throw new Error('it does not fit');
  expect(fit.size).toBeLessThan(6 * Math.PI);
  expect(fit.size).toBeGreaterThan(18);
});

test('rows on a steep helix keep clear of themselves across the seam', () => {
  for (const pitch of [10, 25, 60, 200]) {
    const request = blockRequest(TWELVE, { min: 0.2, max: 3 }, { baseline: 'helix', pitch }, [8, 7]);
    const fit = fitMark(request);
    if (!fit.ok) throw new Error(`pitch ${pitch} does not fit`);
    expect(acrossSeam(request, fit.size, fit.at), `pitch ${pitch}`).toBeGreaterThanOrEqual(request.cutWidth);
  }
});
