export type { Drawing, DrawnPath, LeftOut, ReadDrawing } from './svg/drawing.js';
export { type Outlines, outlines } from './svg/outlines.js';
export { readSvg } from './svg/read.js';
