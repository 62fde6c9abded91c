import { expect, test } from 'vitest';
import { clearanceToPolygons, indexPolygons } from '../../src/layout/polygon-clearance.js';

const circle = (r: number, corners: number): Float64Array =>
  Float64Array.from({ length: 2 * corners }, (_, i) => {
    const turn = (2 * Math.PI * (i >> 1)) / corners;
    return r * (i % 2 ? Math.sin(turn) : Math.cos(turn));
  });

const CORNERS = 2000;

test('a line deep in a polygon of many corners is measured without looking at every edge for every point', () => {
  const polygons = indexPolygons([circle(10, CORNERS)]);
  const line = circle(6, CORNERS);
  let steps = 0;
  const clearance = clearanceToPolygons([{ points: line, closed: true }], false, polygons, 1, (n) => {
    steps += n;
  });
  // The inner circle is 4 mm in all round; chords take a few millionths off.
  expect(clearance).toBeCloseTo(-4, 4);
  // Every point against every edge is four million.
  expect(steps).toBeLessThan((CORNERS * CORNERS * 3) / 4);
});

test('the deepest point counts, wherever along the line it lies', () => {
  const polygons = indexPolygons([Float64Array.of(0, 0, 10, 0, 10, 10, 0, 10)]);
  const depth = (...points: number[]) =>
    clearanceToPolygons(
      [{ points: Float64Array.from(points), closed: false }],
      false,
      polygons,
      1,
      () => undefined,
    );
  expect(depth(1, 5, 5, 5, 9, 5)).toBe(-5);
  expect(depth(9, 5, 5, 5, 1, 5)).toBe(-5);
  expect(depth(5, 5, 1, 5)).toBe(-5);
  expect(depth(3, 3, 3, 4)).toBe(-3);
});

test('a filled shape round a whole keep-out is as deep in it as its outline lies away', () => {
  const polygons = indexPolygons([Float64Array.of(4, 4, 6, 4, 6, 6, 4, 6)]);
  const clearance = (filled: boolean, known: number, ...points: number[]) =>
    clearanceToPolygons(
      [{ points: Float64Array.from(points), closed: true }],
      filled,
      polygons,
      known,
      () => undefined,
    );
  const round = [0, 0, 10, 0, 10, 10, 0, 10];
  expect(clearance(true, 9, ...round)).toBe(-4);
  // Its line alone goes round at that distance, and takes nothing of the keep-out.
  expect(clearance(false, 9, ...round)).toBe(4);
  // A corner of a box round both is not inside: this triangle's long side passes the keep-out.
  const triangle = [0, 0, 9, 0, 0, 9];
  expect(clearance(true, 9, ...triangle)).toBeLessThan(0);
  const past = [-10, 0, 5, 0, -10, 15];
  expect(clearance(true, 9, ...past)).toBeCloseTo(clearance(false, 9, ...past), 12);
  expect(clearance(true, 9, ...past)).toBeGreaterThan(0);
});
