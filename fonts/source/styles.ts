import { plain } from './plain.js';
import { roman } from './roman/roman.js';
import type { Drawing } from './style.js';

/** The stroke family: every style drawn for burin. */
export const styles: readonly Drawing[] = [plain, roman];
