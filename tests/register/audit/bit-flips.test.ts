import { bitFlips } from './bit-flips.js';

bitFlips(40);
