import { booleansAgainstReference } from './boolean-pairs.js';

// 1,005 pairs.
booleansAgainstReference(67);
