import { type Alteration, inside, lived, mine, more, raw } from './alter.js';
import { type Draft, genuine } from './maker.js';

export const alteredForm: Alteration[] = [
  // The form.
  [
    'an unknown field',
    ['field-wrong'],
    inside((c) => {
      Object.assign(c, { note: 'x' });
    }),
  ],
  [
    'a missing field',
    ['field-wrong'],
    inside((c) => {
      delete (c as Partial<Draft>).series;
    }),
  ],
  [
    'another statement',
    ['field-wrong'],
    inside((c) => {
      Object.assign(c, { proves: 'Everything.' });
    }),
  ],
  [
    'version 3',
    ['version-unknown'],
    inside((c) => {
      Object.assign(c, { version: 3 });
    }),
  ],
  [
    'version 1 with a serial',
    ['version-unknown'],
    inside((c) => {
      Object.assign(c, { version: 1, serial: 1 });
    }),
  ],
  [
    'another kind',
    ['field-wrong'],
    inside((c) => {
      Object.assign(c, { kind: 'diploma' });
    }),
  ],
  ['a name twice', ['not-canonical'], raw('{', '{"label":"12/90",')],
  ['a hidden field', ['field-wrong'], raw('{', '{"__proto__":{"x":1},')],
  ['blanks', ['not-canonical'], raw(/^./, '{ ')],
  [
    'another order of names',
    ['not-canonical'],
    () => Buffer.from(JSON.stringify(Object.fromEntries(Object.entries(genuine().certificate).reverse()))),
  ],
  ['a byte order mark', ['not-json'], raw(/^/, '\ufeff')],
  ['its end cut off', ['not-json'], () => genuine().file.subarray(0, -20)],
  ['nothing in it', ['not-json'], () => new Uint8Array()],
  ['null', ['field-wrong'], () => Buffer.from('null')],
  ['bytes that are no text', ['not-utf8'], () => Buffer.from([0xff, 0xfe, 0x7b])],
  ['half a character', ['signature-wrong'], raw('Sterling', '\\ud800')],
  ['a million bytes', ['too-large'], () => Buffer.alloc(1_000_000, 32)],
  [
    'a nest of a hundred thousand brackets',
    ['field-wrong'],
    () => Buffer.from('['.repeat(100_000) + ']'.repeat(100_000)),
  ],
  // Lives that were proved, and are not sound.
  ['withheld at the end', ['history-impossible'], lived((t) => more(t, 'withheld'))],
  ['scrapped at the end', ['not-sound'], lived((t) => more(t, 'scrapped'))],
  ['destroyed at the end', ['not-sound'], lived((t) => more(t, 'scrapped', 'destroyed'))],
  ['recut and not yet engraved', ['not-sound'], lived((t) => more(t, 'scrapped', 'destroyed', 'recut'))],
  ['void at the end', ['not-sound'], lived((t) => more(t, 'scrapped', 'destroyed', 'void'))],
  [
    'issued twice',
    ['history-impossible'],
    lived((t) => {
      t.push({ ...mine(t, 'issued') });
    }),
  ],
];
