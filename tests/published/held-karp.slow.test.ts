import { boundTours } from './held-karp.js';

boundTours(1);
