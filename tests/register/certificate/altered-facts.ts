import { type Alteration, CLOSED, edit, foreign, inside, LAST } from './alter.js';
import { altered, resigned, stranger } from './maker.js';

export const alteredFacts: Alteration[] = [
  // What is shown, signed anew: the events contradict it.
  [
    'another label',
    ['label-differs'],
    inside((c) => {
      c.label = '13/90';
    }),
  ],
  [
    'a digit of the number',
    ['number-differs'],
    inside((c) => {
      c.number = 13;
    }),
  ],
  [
    'another edition',
    ['edition-differs'],
    inside((c) => {
      c.edition.id = 'ten-lights';
    }),
  ],
  [
    'another series',
    ['series-differs'],
    inside((c) => {
      c.series.id = 'proofs';
    }),
  ],
  [
    'a day of engraving',
    ['dates-differ'],
    inside((c) => {
      c.dates.engraved = '2021-03-02';
    }),
  ],
  [
    'a day of issue',
    ['dates-differ'],
    inside((c) => {
      c.dates.issued = '2020-03-01';
    }),
  ],
  [
    'a day left out',
    ['dates-differ'],
    inside((c) => {
      delete c.dates.delivered;
    }),
  ],
  [
    'another owner',
    ['owner-differs'],
    inside((c) => {
      c.owner = 'A. Thief';
    }),
  ],
  [
    'an owner left out',
    ['owner-differs'],
    inside((c) => {
      delete c.owner;
    }),
  ],
  [
    'a part left out',
    ['part-missing'],
    inside((c) => {
      c.parts.pop();
    }),
  ],
  [
    'a part twice',
    ['part-twice'],
    inside((c) => {
      c.parts.push(c.parts[0]!);
    }),
  ],
  // What is shown and stands in no event: the maker's signature holds it.
  [
    'another material',
    ['signature-wrong'],
    () =>
      altered((c) => {
        c.parts[0]!.material = 'Platinum 950';
      }),
  ],
  [
    'another name of the maker',
    ['signature-wrong'],
    () =>
      altered((c) => {
        c.maker = 'Lantern Goast';
      }),
  ],
  [
    'another name of the edition',
    ['signature-wrong'],
    () =>
      altered((c) => {
        c.edition.name = 'Ten Lights';
      }),
  ],
  [
    'a material, signed by a stranger',
    ['signature-wrong'],
    () =>
      resigned((c) => {
        c.parts[0]!.material = 'x';
      }, stranger),
  ],
  [
    'a signature of zeros',
    ['signature-wrong'],
    () =>
      altered((c) => {
        c.signature = `${'A'.repeat(86)}==`;
      }),
  ],
  // The events.
  [
    'one byte of an event',
    ['not-included'],
    inside((c) => edit(c, 3, (b) => b.replace('E. Marrow', 'E. Marrov'))),
  ],
  [
    'the salt of an event',
    ['not-included'],
    inside((c) => edit(c, 3, (b) => b.replace(/"salt":"./, '"salt":"+'))),
  ],
  [
    'an event with a blank',
    ['not-included', 'event-unreadable'],
    inside((c) => edit(c, 3, (b) => b.replace(',', ', '))),
  ],
  [
    'an event with a name twice',
    ['not-included', 'event-unreadable'],
    inside((c) => edit(c, 3, (b) => b.replace('{', '{"at":"x",'))),
  ],
  [
    'an event of an unknown kind',
    ['not-included', 'event-unreadable'],
    inside((c) => edit(c, 3, (b) => b.replace('inspected', 'blessed'))),
  ],
  [
    'an event that is no JSON',
    ['not-included', 'event-unreadable'],
    inside((c) => edit(c, 3, (b) => b.slice(0, -1))),
  ],
  [
    'an event of a whole edition',
    ['not-included', 'event-unreadable'],
    inside((c) => edit(c, 3, () => CLOSED)),
  ],
  [
    'two events in the other order',
    ['events-out-of-order'],
    inside((c) => {
      c.events.splice(2, 2, c.events[3]!, c.events[2]!);
    }),
  ],
  [
    'an event twice',
    ['events-out-of-order'],
    inside((c) => {
      c.events.push(c.events[LAST]!);
    }),
  ],
  [
    'the issue left out',
    ['dates-differ', 'history-impossible'],
    inside((c) => {
      c.events.shift();
    }),
  ],
  [
    'one engraving left out',
    ['history-impossible'],
    inside((c) => {
      c.events.splice(1, 1);
    }),
  ],
  [
    'the inspection left out',
    ['dates-differ', 'history-impossible'],
    inside((c) => {
      c.events.splice(3, 1);
    }),
  ],
  [
    'the event of another number',
    ['number-differs', 'label-differs', 'history-impossible'],
    inside((c) => {
      c.events.splice(3, 1, foreign());
    }),
  ],
];
