import { crc32 } from 'node:zlib';
import { svgToPng } from '../sheets/png.js';
import { writeWholeBytes } from './whole-file.js';

/** Signature and header of a PNG (W3C, Portable Network Graphics, 5.2 and 11.2.1). */
const START_BYTES = 8 + 25;
const MARK = 'Software\0burin';

/** Writes an SVG whose viewBox is in mm as a PNG, whole or not at all; replaces an earlier picture of burin only. */
export const writePng = (file: string, svg: string): Promise<void> =>
  writeWholeBytes(file, marked(svgToPng(svg)), {
    replaces: (head) => head.slice(START_BYTES + 4).startsWith(`tEXt${MARK}`),
  });

/** The picture, which says that burin made it (a tEXt chunk, 11.3.4.3). */
function marked(png: Uint8Array): Uint8Array {
  const data = Buffer.from(`tEXt${MARK}`, 'latin1');
  const chunk = Buffer.alloc(4 + data.length + 4);
  chunk.writeUInt32BE(data.length - 4, 0);
  data.copy(chunk, 4);
  chunk.writeUInt32BE(crc32(data), 4 + data.length);
  return Buffer.concat([png.subarray(0, START_BYTES), chunk, png.subarray(START_BYTES)]);
}
