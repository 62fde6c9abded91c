/**
 * Writes a style's font, or its specimen with the word `specimen`, to standard output:
 *   node dist/lettering/drawing/main.js burin-plain > fonts/burin-plain.svg
 *   node dist/lettering/drawing/main.js burin-plain specimen > docs/lettering/burin-plain.svg
 */
import { styles } from './styles.js';
import { writeFont } from './write-font.js';
import { writeSpecimen } from './write-specimen.js';

const [, , id = '', what] = process.argv;
const drawing = styles.find((s) => s.id === id);
if (!drawing)
  throw new RangeError(`There is no style ${id}. There are: ${styles.map((s) => s.id).join(', ')}.`);
process.stdout.write(what === 'specimen' ? writeSpecimen(drawing) : writeFont(drawing));
