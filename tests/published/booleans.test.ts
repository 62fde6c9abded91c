import { booleansAgainstReference } from './boolean-pairs.js';

booleansAgainstReference(4);
