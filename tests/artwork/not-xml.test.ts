import { expect, it } from 'vitest';
import { elementTree } from '../../src/artwork/svg/tree.js';

const xmlns = 'xmlns="http://www.w3.org/2000/svg"';

it.each([
  ['a file cut short', `<svg ${xmlns}>\n<g><path d="M0 0L1 1"/>`, 'artwork.cut-short', 'a.svg:2:23'],
  ['a file cut in a tag', `<svg ${xmlns}>\n<path d="M0`, 'artwork.cut-short', 'a.svg:2:11'],
  ['an element closed by another', `<svg ${xmlns}><g></svg>`, 'artwork.not-xml', 'a.svg:1:49'],
  ['no XML at all', 'a drawing', 'artwork.not-xml', 'a.svg:1:9'],
])('%s is refused where it breaks', (_what, text, code, where) => {
  const read = elementTree(text, 'a.svg');
  expect('problem' in read && read.problem).toMatchObject({ code, where });
});
