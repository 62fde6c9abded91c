import { hostileDrawings } from './hostile.js';
import { LONG } from './hostile-files.js';

hostileDrawings((name) => LONG.has(name));
