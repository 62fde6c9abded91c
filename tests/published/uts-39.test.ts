import { expect, test } from 'vitest';
import { readAlike } from '../../src/edition/look-alike.js';

/*
 * Unicode Technical Standard 39, "Unicode Security Mechanisms", section 4, Confusable Detection, with the data of version
 * 13.0.0 (https://www.unicode.org/Public/security/13.0.0/confusables.txt), as the package `unhomoglyph` has it.
 */
const { default: confusables } = await import('unhomoglyph/data.json', { with: { type: 'json' } });

test('what the standard says looks like plain letters or digits is read as they are', () => {
  const latin = Object.entries(confusables).filter(([, plain]) =>
    /^[A-Za-z0-9](?:[A-Za-z0-9]|[\u0300-\u036f])*$/.test(plain),
  );
  const missed = latin.filter(([odd, plain]) => !readAlike(`x${odd}x`, `x${plain}x`));
  expect(missed.map(([odd, plain]) => `${odd} ${plain}`)).toEqual([]);
  expect(latin.length).toBeGreaterThan(1600);
});
