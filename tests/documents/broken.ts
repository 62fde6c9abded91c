import { brokenCrosscheck } from './broken/crosscheck.js';
import { brokenFolder } from './broken/folder.js';
import { brokenText } from './broken/text.js';
import { brokenValues } from './broken/value.js';

export type { Broken } from './broken/edit.js';

/** Every way of spoiling the good workshop that has to be answered with its place and a cure. */
export const brokenDocuments = [...brokenText, ...brokenValues, ...brokenFolder, ...brokenCrosscheck];
