import { type Alteration, inside, lived, mine, more, raw } from './alter.js';
import { type Draft, genuine } from './maker.js';

export const alteredForm: Alteration[] = [
  // The form.
  [
    'an unknown field',
    ['form'],
    inside((c) => {
      Object.assign(c, { note: 'x' });
    }),
  ],
  [
    'a missing field',
    ['form'],
    inside((c) => {
      delete (c as Partial<Draft>).series;
    }),
  ],
  [
    'another statement',
    ['form'],
    inside((c) => {
      Object.assign(c, { proves: 'Everything.' });
    }),
  ],
  [
    'version 2',
    ['version'],
    inside((c) => {
      Object.assign(c, { version: 2 });
    }),
  ],
  [
    'another kind',
    ['form'],
    inside((c) => {
      Object.assign(c, { kind: 'diploma' });
    }),
  ],
  ['a name twice', ['canonical'], raw('{', '{"label":"12/90",')],
  ['a hidden field', ['form'], raw('{', '{"__proto__":{"x":1},')],
  ['blanks', ['canonical'], raw(/^./, '{ ')],
  [
    'another order of names',
    ['canonical'],
    () => Buffer.from(JSON.stringify(Object.fromEntries(Object.entries(genuine().certificate).reverse()))),
  ],
  ['a byte order mark', ['JSON'], raw(/^/, '\ufeff')],
  ['its end cut off', ['JSON'], () => genuine().file.subarray(0, -20)],
  ['nothing in it', ['JSON'], () => new Uint8Array()],
  ['null', ['form'], () => Buffer.from('null')],
  ['bytes that are no text', ['text'], () => Buffer.from([0xff, 0xfe, 0x7b])],
  ['half a character', ['signature'], raw('Sterling', '\\ud800')],
  ['a million bytes', ['size'], () => Buffer.alloc(1_000_000, 32)],
  [
    'a nest of a hundred thousand brackets',
    ['form'],
    () => Buffer.from('['.repeat(100_000) + ']'.repeat(100_000)),
  ],
  // Lives that were proved, and are not sound.
  ['withheld at the end', ['life'], lived((t) => more(t, 'withheld'))],
  ['scrapped at the end', ['state'], lived((t) => more(t, 'scrapped'))],
  ['destroyed at the end', ['state'], lived((t) => more(t, 'scrapped', 'destroyed'))],
  ['recut and not yet engraved', ['state'], lived((t) => more(t, 'scrapped', 'destroyed', 'recut'))],
  ['void at the end', ['state'], lived((t) => more(t, 'scrapped', 'destroyed', 'void'))],
  [
    'issued twice',
    ['life'],
    lived((t) => {
      t.push({ ...mine(t, 'issued') });
    }),
  ],
];
