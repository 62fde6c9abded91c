export { type Outlines, outlines } from './svg/outlines.js';
export { type Drawing, type DrawnPath, type LeftOut, type ReadDrawing, readSvg } from './svg/read.js';
