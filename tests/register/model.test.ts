import { modelTests } from './model-stores.js';

modelTests(4);
