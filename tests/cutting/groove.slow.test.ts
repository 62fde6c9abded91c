import { groovesIn, LETTERS } from './groove-letters.js';

groovesIn(LETTERS, 'BQw8');
