import { clearShapes } from './cleared-shapes.js';

clearShapes();
