import { type Edition, edition, type Series } from '../../src/documents/schema/edition.js';

/** The invented edition of the invented bench: 90 pieces, 9 artist's proofs. */
export const nineLights = (): Edition =>
  edition.parse({
    kind: 'edition',
    version: 1,
    name: 'Nine Lights',
    designs: ['barrel-inscription'],
    series: [
      { id: 'main', title: 'numbered edition', to: 90, total: { joiner: '/' } },
      {
        id: 'proofs',
        title: "artist's proofs",
        to: 9,
        figures: 'roman',
        total: { joiner: '/' },
        before: 'A.P. ',
      },
    ],
  });

type Given = Partial<Series> & Pick<Series, 'id' | 'to'>;

export const seriesOf = (given: Given): Series => ({
  title: given.id,
  from: 1,
  figures: 'arabic',
  pad: 1,
  exclude: [],
  ...given,
});

export const editionOf = (...series: Given[]): Edition => ({ ...nineLights(), series: series.map(seriesOf) });
