import { NOON } from './ask.js';

/** Events of number 1 as a hand at the database would enter them: for any store, whose tables are to judge them. */
export type Put = string | [type: string, more: object];

const MATCHED: Put = ['issued', { parts: ['cap', 'barrel'] }];
const WITNESSED: Put = ['destroyed', { witness: 'B. Fern' }];
const of = (type: string, part: string, more: object = {}): Put => [type, { part, ...more }];

const AT = NOON.toISOString();
const CLOSED = { type: 'closed', edition: 'nine-lights', by: 'A. Moss', statement: 'ab'.repeat(32) };

export function bodyOf(one: Put): string {
  const [type, more] = typeof one === 'string' ? [one, {}] : one;
  const named = { edition: 'nine-lights', series: 'main', number: 1, label: '1/90' };
  return JSON.stringify({
    ...(type === 'closed' ? CLOSED : named),
    ...{ type, at: AT, by: 'A. Moss', why: 'by hand' },
    ...more,
  });
}

export const WHOLE_LIVES: [string, Put[]][] = [
  [
    'to a second piece',
    ['issued', 'engraved', 'scrapped', WITNESSED, 'recut', 'engraved', 'inspected', 'delivered'],
  ],
  ['part by part', [MATCHED, of('engraved', 'cap'), of('engraved', 'barrel'), 'inspected', 'delivered']],
  ['withheld before its issue', ['withheld', 'released', 'issued', 'withheld', 'released', 'engraved']],
  ['void', ['withheld', 'void']],
  ['after the closing', ['issued', 'closed', 'engraved']],
];

/** What went before, what must not follow, and why. */
export const WRONG: [string, Put[], Put, RegExp][] = [
  ['second issue', ['issued'], 'issued', /issued before/],
  ['engraved twice', ['issued', 'engraved'], 'engraved', /not blank/],
  ['a part engraved twice', [MATCHED, of('engraved', 'cap')], 'engraved', /not blank/],
  ['a part it has not', [MATCHED], of('engraved', 'clip'), /no such part/],
  ['a part of one whole piece', ['issued'], of('engraved', 'cap'), /no such part/],
  ['engraved, never issued', [], 'engraved', /no such number was issued/],
  ['inspected while a part is blank', [MATCHED, of('engraved', 'cap')], 'inspected', /not just engraved/],
  ['inspected twice', ['issued', 'engraved', 'inspected'], 'inspected', /not just engraved/],
  ['delivered before inspected', ['issued', 'engraved'], 'delivered', /not just inspected/],
  ['delivered twice', ['issued', 'engraved', 'inspected', 'delivered'], 'delivered', /not just inspected/],
  ['recut of a live piece', ['issued', 'engraved'], 'recut', /two pieces/],
  ['recut before destroyed', ['issued', 'engraved', 'scrapped'], 'recut', /two pieces/],
  [
    'recut of the sound part',
    [MATCHED, of('scrapped', 'cap'), of('destroyed', 'cap', { witness: 'B' })],
    'recut',
    /two/,
  ],
  ['recut twice', ['issued', 'scrapped', WITNESSED, 'recut'], 'recut', /two pieces/],
  ['scrapped twice', ['issued', 'scrapped'], 'scrapped', /scrapped before/],
  ['destroyed, not scrapped', ['issued', 'engraved'], WITNESSED, /not scrapped/],
  ['destroyed unseen', ['issued', 'scrapped'], 'destroyed', /check/i],
  ['destroyed, seen by the same', ['issued', 'scrapped'], ['destroyed', { witness: 'A. Moss' }], /witness/],
  ['the same in small letters', ['issued', 'scrapped'], ['destroyed', { witness: ' a.  moss ' }], /witness/],
  ['issue of a withheld number', ['withheld'], 'issued', /withheld or void/],
  ['issue of a void number', ['void'], 'issued', /withheld or void/],
  ['engraved while withheld', ['issued', 'withheld'], 'engraved', /withheld/],
  ['withheld once delivered', ['issued', 'engraved', 'inspected', 'delivered'], 'withheld', /delivered/],
  ['withheld while scrapped', ['issued', 'scrapped'], 'withheld', /scrapped/],
  ['released, never withheld', ['issued'], 'released', /not withheld/],
  ['anything once void', ['issued', 'void'], 'withheld', /void/],
  ['void of a live piece', ['issued', 'engraved'], 'void', /still bears/],
  ['issue once closed', ['closed'], 'issued', /closed/],
  ['withheld once closed', ['closed'], 'withheld', /closed/],
  ['closed twice', ['closed'], 'closed', /closed before/],
  ['another number under the label', ['withheld'], ['void', { number: 2 }], /belongs to another number/],
  ['another label for the number', ['withheld'], ['void', { label: 'I' }], /another label/],
  ['issue under a label kept back', ['withheld', 'released'], ['issued', { number: 2 }], /another number/],
  ['issue of a number kept back', ['withheld', 'released'], ['issued', { label: 'I' }], /another label/],
  ['an earlier time', ['issued'], ['engraved', { at: '2031-03-01T11:59:59.999Z' }], /earlier/],
];

/** No event at all. */
export const MISSHAPEN: [string, Put][] = [
  ['of no kind', 'melted'],
  ['a statement that is no hash', ['closed', { statement: 'AB'.repeat(32) }]],
  ['a closing of a number', ['closed', { series: 'main', number: 1, label: '1/90' }]],
  ['an issue of no number', ['issued', { series: undefined, number: undefined, label: undefined }]],
  ['a witness of an issue', ['issued', { witness: 'B' }]],
  ['a witness that is a number', ['destroyed', { witness: 7 }]],
  ['a part of an issue', of('issued', 'cap')],
  ['parts of nothing', ['issued', { parts: [] }]],
  ['parts that are no list', ['issued', { parts: 'cap' }]],
  ['parts that are no names', ['issued', { parts: [1] }]],
  ['a part twice', ['issued', { parts: ['cap', 'cap'] }]],
  ['a recipient of an issue', ['issued', { to: 'B' }]],
  ['a short salt', ['issued', { salt: 'AAAA' }]],
  ['a salt in other letters', ['issued', { salt: 'AAAAAAAAAAAAAAAAAAAAA_' }]],
  ['a day that is no text', ['issued', { on: 2031 }]],
  ['a name that is of no use', ['issued', { colour: 'red' }]],
];
