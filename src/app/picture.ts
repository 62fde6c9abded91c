import { Resvg } from '@resvg/resvg-js';
import { writeWholeBytes } from './whole-file.js';

/** 40 to the millimetre: a number 1 mm high is read with ease. Held where a long part would make a poster of it. */
const DOTS_PER_MM = 40;
const MOST_DOTS = 8000;

/** Writes an SVG whose viewBox is in mm as a PNG, whole or not at all. */
export async function writePng(file: string, svg: string): Promise<void> {
  const [, width, height] = /viewBox="0 0 (\S+) (\S+)"/.exec(svg)!.map(Number) as [number, number, number];
  const zoom = Math.min(DOTS_PER_MM, MOST_DOTS / Math.max(width, height));
  const picture = new Resvg(svg, { fitTo: { mode: 'width', value: Math.max(1, Math.round(width * zoom)) } });
  await writeWholeBytes(file, picture.render().asPng());
}
