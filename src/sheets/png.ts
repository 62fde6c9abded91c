import { Resvg } from '@resvg/resvg-js';

/** 40 to the millimetre: a number 1 mm high is easy to read. Fewer where a long part would make too large a picture. */
const DOTS_PER_MM = 40;
const MOST_DOTS = 8000;

/** An SVG whose viewBox is in mm as the bytes of a PNG. */
export function svgToPng(svg: string): Uint8Array {
  const [, width, height] = /viewBox="0 0 (\S+) (\S+)"/.exec(svg)!.map(Number) as [number, number, number];
  const zoom = Math.min(DOTS_PER_MM, MOST_DOTS / Math.max(width, height));
  const picture = new Resvg(svg, { fitTo: { mode: 'width', value: Math.max(1, Math.round(width * zoom)) } });
  return picture.render().asPng();
}
