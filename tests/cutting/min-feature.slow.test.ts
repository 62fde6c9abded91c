import { lettersAgainstGrid } from './min-feature-letters.js';

lettersAgainstGrid('BEGSacegmsyw234568&#ABKPR');
