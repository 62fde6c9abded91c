import canonicalizeModule from 'canonicalize';
import { leafHash } from '../../src/register/event.js';
import { NOON, STATED } from './ask.js';

/** RFC 8785: the one text of an event. */
export const canonicalText = canonicalizeModule as unknown as (value: unknown) => string;

/** Events of number 1 as a hand at the database would enter them: for any store, whose tables are to judge them. */
export type Put = string | [type: string, more: object];

const MATCHED: Put = ['issued', { parts: ['cap', 'barrel'] }];
const WITNESSED: Put = ['destroyed', { witness: 'B. Fern' }];
const of = (type: string, part: string, more: object = {}): Put => [type, { part, ...more }];

const AT = NOON.toISOString();
const WHOLE = (type: string) => ['opened', 'amended', 'closed', 'resumed'].includes(type);
const SERIES = [
  {
    id: 'main',
    title: 'M',
    from: 1,
    to: 9,
    figures: 'arabic',
    pad: 1,
    total: { joiner: '/', of: 90 },
    exclude: [],
  },
];
const TERMS = { name: 'Nine Lights', terms: { series: SERIES, parts: [], approvers: [] } };
const CLOSED = {
  type: 'closed',
  edition: 'nine-lights',
  by: 'A. Moss',
  statement: 'ab'.repeat(32),
  stated: STATED,
};

export function bodyOf(one: Put): string {
  const [type, more] = typeof one === 'string' ? [one, {}] : one;
  const named = { edition: 'nine-lights', series: 'main', number: 1, label: '1/90' };
  return canonicalText({
    ...(WHOLE(type) ? { edition: 'nine-lights' } : named),
    ...(type === 'closed' && CLOSED),
    ...((type === 'opened' || type === 'amended') && TERMS),
    ...{ type, at: AT, by: 'A. Moss', why: 'by hand' },
    ...more,
  });
}

const digestOf = (one: Put): string => leafHash(bodyOf(one)).toString('hex');
/** Goes on past the event at a place, which was that one. */
export const past = (corrects: number, one: Put, more: object = {}): Put => [
  'resumed',
  { corrects, digest: digestOf(one), fault: 'rule', witness: 'B. Fern', ...more },
];

/** The indexes that may refuse before a trigger looks, and the rules they stand for. */
const INDEX_CODES: Readonly<Record<string, string>> = {
  issued_label: 'register.issued-before',
  issued_number: 'register.issued-before',
  closed_once: 'register.closed-before',
  opened_once: 'terms.opened-before',
};

/** The code of the rule by which a database refused an entry; the whole message where it names none. */
export function codeIn(error: unknown): string {
  const { message, constraint = '' } = error as { message: string; constraint?: string };
  return /\[((?:register|terms)\.[a-z-]+)\]$/.exec(message)?.[1] ?? INDEX_CODES[constraint] ?? message;
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
  ['on terms', ['opened', 'issued', 'amended', 'engraved', 'closed']],
  ['begun before there were terms', ['issued', 'opened', 'engraved']],
  [
    'with a serial beyond all that may have been lost, and the next',
    [
      ...['issued', 'engraved', ['noted', { missing: 100_000_000 }]],
      ...['certified', 'certified'].map((type, i) => [
        type,
        { serial: 2_000_000_000 + i, digest: 'ab'.repeat(32) },
      ]),
    ] as Put[],
  ],
  ['past an event', ['issued', 'engraved', past(1, 'engraved'), 'engraved', 'inspected']],
  ['past an event that has a wrong time alone', ['issued', past(0, 'issued', { fault: 'time' }), 'engraved']],
  [
    'past what went past an event',
    [
      ...['issued', 'engraved', past(1, 'engraved'), past(2, past(1, 'engraved'))],
      ...['inspected', past(1, 'engraved'), 'engraved'],
    ] as Put[],
  ],
  [
    'past a step taken back',
    [
      ...['issued', 'engraved', ['retracted', { corrects: 1 }]],
      ...[past(2, ['retracted', { corrects: 1 }]), 'inspected'],
    ] as Put[],
  ],
  [
    'past a checkpoint',
    ['issued', ['resumed', { digest: 'ab'.repeat(32), fault: 'checkpoint', witness: 'B. Fern' }]],
  ],
  [
    'past a name that is taken',
    [
      ...['opened', ['opened', { edition: 'copy', name: 'Other' }]],
      ...[past(1, ['opened', { edition: 'copy', name: 'Other' }]), ['amended', { name: 'Other' }]],
    ] as Put[],
  ],
];

/** What went before, what must not follow, and the code of the rule that refuses it. */
export const WRONG: [string, Put[], Put, string][] = [
  ['second issue', ['issued'], 'issued', 'issued-before'],
  ['engraved twice', ['issued', 'engraved'], 'engraved', 'part-not-blank'],
  ['a part engraved twice', [MATCHED, of('engraved', 'cap')], 'engraved', 'part-not-blank'],
  ['a part it has not', [MATCHED], of('engraved', 'clip'), 'no-such-part'],
  ['a part of one whole piece', ['issued'], of('engraved', 'cap'), 'no-such-part'],
  ['engraved, never issued', [], 'engraved', 'not-issued'],
  ['inspected while a part is blank', [MATCHED, of('engraved', 'cap')], 'inspected', 'piece-not-engraved'],
  ['inspected twice', ['issued', 'engraved', 'inspected'], 'inspected', 'piece-not-engraved'],
  ['delivered before inspected', ['issued', 'engraved'], 'delivered', 'piece-not-inspected'],
  ['delivered twice', ['issued', 'engraved', 'inspected', 'delivered'], 'delivered', 'piece-not-inspected'],
  ['recut of a live piece', ['issued', 'engraved'], 'recut', 'part-not-destroyed'],
  ['recut before destroyed', ['issued', 'engraved', 'scrapped'], 'recut', 'part-not-destroyed'],
  [
    'recut of the sound part',
    [MATCHED, of('scrapped', 'cap'), of('destroyed', 'cap', { witness: 'B' })],
    'recut',
    'part-not-destroyed',
  ],
  ['recut twice', ['issued', 'scrapped', WITNESSED, 'recut'], 'recut', 'part-not-destroyed'],
  ['scrapped twice', ['issued', 'scrapped'], 'scrapped', 'part-already-scrapped'],
  ['destroyed, not scrapped', ['issued', 'engraved'], WITNESSED, 'part-not-scrapped'],
  ['destroyed unseen', ['issued', 'scrapped'], 'destroyed', 'malformed-event'],
  [
    'destroyed, seen by the same',
    ['issued', 'scrapped'],
    ['destroyed', { witness: 'A. Moss' }],
    'own-witness',
  ],
  [
    'the same in small letters',
    ['issued', 'scrapped'],
    ['destroyed', { witness: ' a.  moss ' }],
    'own-witness',
  ],
  ['the issue taken back', ['issued'], ['retracted', { corrects: 0 }], 'not-last-event'],
  [
    'a step from before the issue taken back',
    ['withheld', 'released', 'issued'],
    ['retracted', { corrects: 1 }],
    'not-last-event',
  ],
  [
    'a step taken back that is not the last',
    ['issued', 'engraved', 'withheld'],
    ['retracted', { corrects: 1 }],
    'not-last-event',
  ],
  [
    'a step taken back twice',
    ['issued', 'engraved', ['retracted', { corrects: 1 }]],
    ['retracted', { corrects: 1 }],
    'not-last-event',
  ],
  [
    'a delivery taken back by one person',
    ['issued', 'engraved', 'inspected', 'delivered'],
    ['retracted', { corrects: 3 }],
    'no-second-person',
  ],
  [
    'a buyer of what was no delivery',
    ['issued', 'engraved'],
    ['corrected', { corrects: 1, to: 'C. Lark' }],
    'no-such-event',
  ],
  [
    'a certificate after which there is no other',
    ['issued', 'engraved'],
    ['certified', { serial: 2_147_483_647, digest: 'ab'.repeat(32) }],
    'wrong-serial',
  ],
  [
    'the same after a first one',
    ['issued', 'engraved', ['certified', { serial: 1, digest: 'ab'.repeat(32) }]],
    ['certified', { serial: 2_000_000_001, digest: 'ab'.repeat(32) }],
    'wrong-serial',
  ],
  [
    'a loss of more than any register has',
    ['issued'],
    ['noted', { missing: 100_000_001 }],
    'malformed-event',
  ],
  ['issue of a withheld number', ['withheld'], 'issued', 'number-withheld'],
  ['issue of a void number', ['void'], 'issued', 'number-void'],
  ['engraved while withheld', ['issued', 'withheld'], 'engraved', 'number-withheld'],
  [
    'withheld once delivered',
    ['issued', 'engraved', 'inspected', 'delivered'],
    'withheld',
    'too-late-to-withhold',
  ],
  ['withheld while scrapped', ['issued', 'scrapped'], 'withheld', 'too-late-to-withhold'],
  ['released, never withheld', ['issued'], 'released', 'not-withheld'],
  ['anything once void', ['issued', 'void'], 'withheld', 'number-void'],
  ['void of a live piece', ['issued', 'engraved'], 'void', 'number-on-piece'],
  ['issue once closed', ['closed'], 'issued', 'edition-closed'],
  ['withheld once closed', ['closed'], 'withheld', 'edition-closed'],
  ['closed twice', ['closed'], 'closed', 'closed-before'],
  ['another number under the label', ['withheld'], ['void', { number: 2 }], 'number-mismatch'],
  ['another label for the number', ['withheld'], ['void', { label: 'I' }], 'number-mismatch'],
  ['issue under a label kept back', ['withheld', 'released'], ['issued', { number: 2 }], 'number-mismatch'],
  ['issue of a number kept back', ['withheld', 'released'], ['issued', { label: 'I' }], 'number-mismatch'],
  ['opened twice', ['opened'], 'opened', 'terms.opened-before'],
  ['amended, never opened', [], 'amended', 'terms.not-opened'],
  ['amended once closed', ['opened', 'closed'], 'amended', 'terms.closed'],
  ['opened once closed', ['closed'], 'opened', 'terms.closed'],
  [
    'opened under a taken name',
    ['opened'],
    ['opened', { edition: 'copy', name: ' nine  LIGHTS' }],
    'terms.name-taken',
  ],
  ['issue beyond the series', ['opened'], ['issued', { number: 10, label: '10/90' }], 'terms.not-on-terms'],
  ['issue of a foreign series', ['opened'], ['issued', { series: 'proofs' }], 'terms.not-on-terms'],
  [
    'issue beyond the amended series',
    ['opened', ['amended', { terms: { ...TERMS.terms, series: [{ ...SERIES[0], from: 2 }] } }]],
    'issued',
    'terms.not-on-terms',
  ],
  [
    'a later event of another request',
    ['issued', ['engraved', { key: 'job', nth: 1 }]],
    ['noted', { key: 'other', nth: 2 }],
    'request-order',
  ],
  ['the seventh event of a request', ['issued'], ['noted', { key: 'job', nth: 7 }], 'request-order'],
  ['gone past by one person', ['issued'], past(0, 'issued', { witness: 'a.  moss' }), 'own-witness'],
  ['past an event that is not there', ['issued'], past(7, 'issued'), 'no-such-entry'],
  ['past an event that is another', ['issued'], past(0, 'engraved'), 'no-such-entry'],
  ['past an event twice', ['issued', past(0, 'issued')], past(0, 'issued'), 'resumed-before'],
  [
    'past an event, and into the past',
    ['issued'],
    past(0, 'issued', { at: '2021-03-01T11:59:59.999Z' }),
    'time-runs-back',
  ],
  ['an earlier time', ['issued'], ['engraved', { at: '2021-03-01T11:59:59.999Z' }], 'time-runs-back'],
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
  ['a day that is no text', ['issued', { on: 2021 }]],
  ['terms of an issue', ['issued', { terms: TERMS.terms }]],
  ['terms that are a text', ['opened', { terms: 'as ever' }]],
  ['an opening without terms', ['opened', { terms: undefined }]],
  ['an opening without a name', ['opened', { name: undefined }]],
  ['a name that is of no use', ['issued', { colour: 'red' }]],
  ['past nothing', ['resumed', { digest: 'ab'.repeat(32), fault: 'rule', witness: 'B' }]],
  ['past a checkpoint at a place', past(0, 'issued', { fault: 'checkpoint' })],
  ['past what is sound', past(0, 'issued', { fault: 'none' })],
  ['past an event unseen', past(0, 'issued', { witness: undefined })],
];
