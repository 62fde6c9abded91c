import { svgToPng } from '../sheets/png.js';
import { writeWholeBytes } from './whole-file.js';

/** Writes an SVG whose viewBox is in mm as a PNG, whole or not at all. */
export const writePng = (file: string, svg: string): Promise<void> => writeWholeBytes(file, svgToPng(svg));
