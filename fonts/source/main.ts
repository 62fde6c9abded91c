/** Writes every style's font and its specimen into the repository: `npm run fonts`. */
import { writeFileSync } from 'node:fs';
import { styles } from './styles.js';
import { writeFont } from './write-font.js';
import { writeSpecimen } from './write-specimen.js';

for (const style of styles) {
  writeFileSync(`fonts/${style.id}.svg`, writeFont(style));
  writeFileSync(`docs/lettering/${style.id}.svg`, writeSpecimen(style));
}
