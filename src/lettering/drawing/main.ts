/**
 * Writes the font, or its specimen with the word `specimen`, to standard output:
 *   node dist/lettering/drawing/main.js > fonts/burin-plain.svg
 *   node dist/lettering/drawing/main.js specimen > docs/lettering/burin-plain.svg
 */
import { plain } from './plain.js';
import { writeFont } from './write-font.js';
import { writeSpecimen } from './write-specimen.js';

process.stdout.write(process.argv[2] === 'specimen' ? writeSpecimen(plain) : writeFont(plain));
