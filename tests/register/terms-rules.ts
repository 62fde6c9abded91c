import { describe, expect } from 'vitest';
import type { Edition } from '../../src/documents/schema/edition.js';
import { plannedNumbers } from '../../src/edition/labels.js';
import type { RegisterEvent } from '../../src/register/event.js';
import { writeEvent } from '../../src/register/plain-events.js';
import type { RawEvent, Register } from '../../src/register/register.js';
import { toOpeningEvent } from '../../src/register/requests.js';
import type { NamedTerms } from '../../src/register/terms/schema.js';
import { termsOf } from '../../src/register/terms/terms.js';
import { nineLights } from '../edition/nine-lights.js';
import { describeProblem } from '../words-of.js';
import { ask, codesOf, labels, NOON, PLAN, refusal, STATED } from './ask.js';
import { asking } from './life-rules.js';
import type { Test } from './of-each-table.js';

const PARTS = [{ part: 'cap', material: 'silver', numbered: true }];
const STATEMENT = '5e'.repeat(32);

/** Nine Lights as its document is after a change. */
function changed(change: (edition: Edition) => void = () => undefined, parts = PARTS) {
  const edition = nineLights();
  change(edition);
  return { terms: termsOf(edition, parts), planned: plannedNumbers(edition) };
}

const main = ({ series }: Edition) => series[0]!;
const AS_MADE = changed();

const AT = NOON.toISOString();

/** Events as a program enters them that asks nothing of names, or an older burin that compared them less closely. */
async function* byAnotherProgram(events: readonly RegisterEvent[]): AsyncGenerator<RawEvent> {
  for (const [seq, event] of events.entries()) yield { seq, ...writeEvent(event) };
}

/** What may change in a document after the first number, without a word in the register. Each must be refused. */
const CHANGES: [what: string, term: string, change: ReturnType<typeof changed>][] = [
  ['the total', 'series main: total: of', changed((e) => Object.assign(main(e).total!, { of: 100 }))],
  [
    'the joiner',
    'series main: total: joiner',
    changed((e) => Object.assign(main(e).total!, { joiner: '⁄' })),
  ],
  [
    'the last number',
    'series main: to',
    changed((e) => Object.assign(main(e), { to: 95, total: { joiner: '/', of: 90 } })),
  ],
  ['the first number', 'series main: from', changed((e) => Object.assign(main(e), { from: 2 }))],
  ['the padding', 'series main: pad', changed((e) => Object.assign(main(e), { pad: 2 }))],
  ['the numerals', 'series main: figures', changed((e) => Object.assign(main(e), { figures: 'roman' }))],
  ['what is before it', 'series main: before', changed((e) => Object.assign(main(e), { before: 'No. ' }))],
  ['what is after it', 'series main: after', changed((e) => Object.assign(main(e), { after: '.' }))],
  [
    'an exclusion',
    'series main: exclude[0]',
    changed((e) => Object.assign(main(e), { exclude: [{ numbers: [13], why: 'unlucky' }] })),
  ],
  [
    'the title of a series',
    'series main: title',
    changed((e) => Object.assign(main(e), { title: 'Edition' })),
  ],
  ['the id of a series', 'series main', changed((e) => Object.assign(main(e), { id: 'numbered' }))],
  [
    'a further series',
    'series extra',
    changed((e) => e.series.push({ ...main(e), id: 'extra', before: 'X ' })),
  ],
  ['the name', 'name', changed((e) => Object.assign(e, { name: 'Ten Lights' }))],
  [
    'the material',
    'part cap: material',
    changed(undefined, [{ part: 'cap', material: 'brass', numbered: true }]),
  ],
  [
    'the part that bears it',
    'part cap: bears the number',
    changed(undefined, [{ part: 'cap', material: 'silver', numbered: false }]),
  ],
  [
    'a further part',
    'part ring: material',
    changed(undefined, [...PARTS, { part: 'ring', material: 'gold', numbered: false }]),
  ],
  ['who may approve', 'approvers', changed((e) => Object.assign(e, { approvers: ['E. Marrow'] }))],
];

/** What any store must do with the terms of editions. */
export function termsRules(fresh: () => Promise<Register>, test: Test): void {
  const issue = { ...ask, ...AS_MADE };
  const amending = { edition: ask.edition, by: 'E. Marrow', why: 'agreed with the owners' };

  describe('terms', () => {
    test('are entered with the first number, once, and can be asked for', async () => {
      const register = await fresh();
      expect(await register.terms('nine-lights')).toBeUndefined();
      expect(labels(await register.issue(issue))).toEqual(['1/90']);
      expect(labels(await register.issue({ ...issue, count: 2 }))).toEqual(['2/90', '3/90']);
      const recorded = (await register.terms('nine-lights'))!;
      expect({ name: recorded.name, terms: recorded.terms }).toEqual(AS_MADE.terms);
      expect(recorded.events.map(({ seq, event }) => [seq, event.type, event.by])).toEqual([
        [0, 'opened', 'A. Moss'],
      ]);
      expect(await register.size()).toBe(4);
    });

    test('are entered with whatever comes first', async () => {
      for (const first of ['record', 'import'] as const) {
        const register = await fresh();
        if (first === 'record') await register.record({ ...asking('withheld'), terms: AS_MADE.terms });
        else await register.importEvents([{ ...asking('withheld') }], { terms: AS_MADE.terms });
        expect((await register.terms('nine-lights'))?.events.map(({ seq }) => seq)).toEqual([0]);
        expect(await register.size()).toBe(2);
      }
    });

    test('are not entered by a request that is refused', async () => {
      const register = await fresh();
      expect(codesOf(await refusal(register.issue({ ...issue, count: 91 })))).toEqual([
        'register.too-few-free',
      ]);
      expect(await register.terms('nine-lights')).toBeUndefined();
      expect(await register.size()).toBe(0);
    });

    test('changed in the document, every entry is refused, whatever the change', async () => {
      const register = await fresh();
      await register.issue(issue);
      for (const [what, term, on] of CHANGES) {
        const differ = expect.objectContaining({
          code: 'terms.differ',
          values: expect.objectContaining({
            ...{ what: term, before: expect.any(String), now: expect.any(String) },
          }),
        });
        for (const work of [
          () => register.issue({ ...ask, ...on, series: on.planned[0]!.series }),
          () => register.record({ ...asking('engraved'), terms: on.terms }),
          () => register.closeEdition({ ...amending, statement: STATEMENT, stated: STATED, terms: on.terms }),
          () => register.importEvents([asking('engraved')], { terms: on.terms }),
          () => register.checkTerms('nine-lights', on.terms),
        ]) {
          const refused = await refusal(work());
          expect(refused.exit, what).toBe(3);
          expect(refused.problems, what).toContainEqual(differ);
        }
      }
      expect(await register.size()).toBe(2);
      // As it was, it goes on.
      expect(labels(await register.issue(issue))).toEqual(['2/90']);
    });

    test('a name belongs to one edition, and what looks like it counts as it', async () => {
      const register = await fresh();
      await register.issue(issue);
      for (const name of ['Nine Lights', 'nine  lights', 'Νine Lights', 'Nine\u200bLights']) {
        const copy = changed((e) => Object.assign(e, { name }));
        const refused = await refusal(register.issue({ ...ask, ...copy, edition: 'copy' }));
        expect([refused.exit, codesOf(refused)]).toEqual([3, ['terms.name-taken']]);
        expect(refused.problems[0]).toMatchObject({
          values: { holder: 'nine-lights', taken: 'Nine Lights' },
        });
        expect(codesOf(await refusal(register.checkTerms('copy', copy.terms)))).toEqual(['terms.name-taken']);
      }
      // Another edition with a name of its own may have a 1/90 too.
      const own = changed((e) => Object.assign(e, { name: 'Harbour Lights' }));
      expect(labels(await register.issue({ ...ask, ...own, edition: 'harbour' }))).toEqual(['1/90']);
    });

    test.each([
      ...[
        'Nine Lights\u2800',
        'Nine\u2800Lights',
        'Nine Lights\u{1D159}',
        'Niné Lights',
        'Nine\u0301 Lights',
      ],
      ...['\u0274ine Lights', 'Nine Llghts', 'N1ne Lights', 'Nine|Lights', 'N|ne Lights', 'Nine+Lights'],
      ...[
        'Nine Lights\u2122',
        'Nine Lights\u00ae',
        'Nine L\u0269ghts',
        'Nine \u14aaights',
        'Nin\u212e Lights',
      ],
      ...['\u24c3ine Lights', 'NINE LIGHT\u0405', 'Nine Light5', 'Nine Lights \u2605', '\u{1F13D}ine Lights'],
    ])('a name that reads like another opens nothing and is not taken on: %j', async (name) => {
      const register = await fresh();
      await register.issue(issue);
      const copy = changed((e) => Object.assign(e, { name }));
      const refused = await refusal(register.issue({ ...ask, ...copy, edition: 'copy' }));
      expect([refused.exit, codesOf(refused)]).toEqual([3, ['terms.name-taken']]);
      expect(refused.problems[0]).toMatchObject({
        values: { name, taken: 'Nine Lights', holder: 'nine-lights' },
      });
      expect(await register.terms('copy')).toBeUndefined();
      const own = changed((e) => Object.assign(e, { name: 'Harbour' }));
      await register.issue({ ...ask, ...own, edition: 'harbour' });
      const amend = register.amend({ ...amending, edition: 'harbour', terms: copy.terms });
      expect(codesOf(await refusal(amend))).toEqual(['terms.name-taken']);
      // It is no other name for its own edition.
      expect(await register.amend({ ...amending, terms: copy.terms })).toHaveLength(1);
    });

    test('names that differ in what is read are those of editions of their own', async () => {
      const register = await fresh();
      const names = ['Nine Lights', 'Nine Lights I', 'Nine Lights II', 'Nine Lights 2', 'Nine Lights 3'];
      for (const [i, name] of names.entries()) {
        const own = changed((e) => Object.assign(e, { name }));
        expect(labels(await register.issue({ ...ask, ...own, edition: `lights-${i}` }))).toEqual(['1/90']);
      }
    });

    test('a name that another program gave to a second edition bars every entry of that one until it is gone past', async () => {
      const nine = AS_MADE.terms;
      const second = changed((e) => Object.assign(e, { name: 'Nine Lights.' }));
      const register = await fresh();
      await register.restore(
        byAnotherProgram([
          toOpeningEvent('nine-lights', nine, 'A. Moss', AT),
          toOpeningEvent('second', second.terms, 'mallory', AT),
          ...[{ edition: 'second', ...PLAN[0]!, by: 'mallory', at: AT, why: 'next' }].flatMap((of) => [
            { type: 'issued' as const, ...of },
            { type: 'engraved' as const, ...of },
          ]),
        ]),
        [],
      );
      const { terms } = second;
      for (const work of [
        () => register.issue({ ...ask, ...second, edition: 'second' }),
        () => register.record({ ...asking('inspected'), edition: 'second', terms }),
        () => register.recordAll([{ ...asking('inspected'), edition: 'second' }], { terms }),
        () => register.checkAll([{ ...asking('inspected'), edition: 'second' }], { terms }),
        () => register.importEvents([{ ...asking('inspected'), edition: 'second' }], { terms }),
        () =>
          register.closeEdition({
            ...{ ...amending, edition: 'second', statement: STATEMENT, stated: STATED, terms },
          }),
        // What cutting and certificates ask first.
        () => register.checkTerms('second', terms),
      ]) {
        const refused = await refusal(work());
        expect([refused.exit, codesOf(refused)]).toEqual([3, ['terms.name-of-another']]);
        expect(refused.problems[0]).toMatchObject({
          values: { name: 'Nine Lights.', taken: 'Nine Lights', holder: 'nine-lights', since: 0, entry: 1 },
        });
        expect(describeProblem(refused.problems[0]!).hint).toContain('burin resume 1');
      }
      // The first is as it was, an amendment of it too.
      expect(labels(await register.issue(issue))).toEqual(['1/90']);
      const longer = changed((e) => Object.assign(main(e), { to: 95, total: { joiner: '/', of: 90 } }));
      expect(await register.amend({ ...amending, terms: longer.terms })).toHaveLength(1);
      // Past the entry, the other opens under a name of its own.
      await register.resume({ entry: 1, by: 'A. Moss', witness: 'E. Marrow', why: 'entered by hand' });
      expect(codesOf(await refusal(register.checkTerms('second', terms)))).toEqual(['terms.name-taken']);
      const own = changed((e) => Object.assign(e, { name: 'Harbour Lights' }));
      expect(labels(await register.issue({ ...ask, ...own, edition: 'second' }))).toEqual(['2/90']);
    });

    test('editions of an older register whose names now read alike stay usable', async () => {
      const plus = changed((e) => Object.assign(e, { name: 'Nine Lights+' }));
      const register = await fresh();
      await register.restore(
        byAnotherProgram([
          toOpeningEvent('nine-lights', AS_MADE.terms, 'A. Moss', AT),
          toOpeningEvent('plus', plus.terms, 'A. Moss', AT),
        ]),
        [],
      );
      for (const [edition, on] of [
        ['nine-lights', AS_MADE],
        ['plus', plus],
      ] as const) {
        expect(labels(await register.issue({ ...ask, ...on, edition }))).toEqual(['1/90']);
        await register.record({ ...asking('engraved'), edition, terms: on.terms });
        const fewer = changed((e) => Object.assign(e, { name: on.terms.name, approvers: ['E. Marrow'] }));
        expect(await register.amend({ ...amending, edition, terms: fewer.terms })).toHaveLength(1);
      }
    });

    test('an old name stays with its edition', async () => {
      const register = await fresh();
      await register.issue(issue);
      const renamed = changed((e) => Object.assign(e, { name: 'Ten Lights' }));
      await register.amend({ ...amending, terms: renamed.terms });
      expect(labels(await register.issue({ ...ask, ...renamed }))).toEqual(['2/90']);
      const refused = await refusal(register.issue({ ...issue, edition: 'copy' }));
      expect(codesOf(refused)).toEqual(['terms.name-taken']);
    });

    test('a number that the plan makes up is not issued', async () => {
      const register = await fresh();
      await register.issue(issue);
      for (const made of [
        { series: 'main', number: 91, label: '91/90' },
        { series: 'main', number: 2, label: '02/90' },
      ])
        expect(codesOf(await refusal(register.issue({ ...issue, planned: [made] })))).toEqual([
          'terms.not-on-terms',
        ]);
      const asked = {
        ...asking('withheld', { series: 'main', number: 91, label: '91/90' }),
        terms: AS_MADE.terms,
      };
      expect(codesOf(await refusal(register.record(asked)))).toEqual(['terms.not-on-terms']);
    });

    test('the tables take a number only as its terms write it, whoever asks nothing of the terms', async () => {
      const register = await fresh();
      await register.issue(issue);
      const odd = (series: string, number: number, label: string) =>
        register.issue({ ...ask, series, planned: [{ series, number, label }] });
      for (const [series, number, all] of [
        ['main', 2, ['2\u204490', '02/90', '2/9', '2 /90', '2/90.', 'II/XC']],
        ['proofs', 4, ['A.P. 4/IX', 'A.P. IIII/IX', 'A.P. IV/9', 'IV/IX']],
      ] as const)
        for (const label of all)
          expect((await refusal(odd(series, number, label))).problems).toMatchObject([
            { code: 'register.entry-refused', values: { rule: 'terms.not-on-terms' } },
          ]);
      expect(labels(await odd('main', 2, '2/90'))).toEqual(['2/90']);
      expect(labels(await odd('proofs', 4, 'A.P. IV/IX'))).toEqual(['A.P. IV/IX']);
    });

    test.each<[string, (edition: Edition) => void]>([
      ['roman numerals', (e) => Object.assign(main(e), { figures: 'roman', to: 3999, total: undefined })],
      [
        'roman numerals and a total',
        (e) => Object.assign(main(e), { figures: 'roman', to: 1999, total: { joiner: ' of ' } }),
      ],
      ['padded numbers', (e) => Object.assign(main(e), { pad: 3, to: 1200, before: "No. '", after: ' %' })],
      ['a total of its own', (e) => Object.assign(main(e), { to: 40, total: { joiner: '\u2215', of: 44 } })],
    ])('the tables write %s as burin does', async (_what, change) => {
      const register = await fresh();
      const made = changed(change);
      const ofMain = made.planned.filter(({ series }) => series === 'main');
      await register.issue({ ...ask, ...made, edition: 'nine-lights' });
      // Every one, at the tables alone.
      const rest = await register.issue({ ...ask, planned: ofMain, count: ofMain.length - 1 });
      expect(labels(rest)).toEqual(labels(ofMain.slice(1)));
    });

    test('two programs that begin at once enter them once', async () => {
      const register = await fresh();
      const [a, b] = await Promise.all([register.issue(issue), register.issue(issue)]);
      expect(labels([...a, ...b]).sort()).toEqual(['1/90', '2/90']);
      expect((await register.terms('nine-lights'))?.events).toHaveLength(1);
    });

    test('a register begun before there were terms gets them with its next entry, if they fit what exists', async () => {
      const register = await fresh();
      await register.issue({ ...ask, count: 13 });
      for (const [unfit, code] of [
        [changed((e) => Object.assign(main(e).total!, { of: 100 })), 'terms.label-changes'],
        [
          changed((e) => Object.assign(main(e), { to: 12, total: { joiner: '/', of: 90 } })),
          'terms.label-goes',
        ],
        [
          changed((e) => Object.assign(main(e), { exclude: [{ containing: '13', why: 'no' }] })),
          'terms.label-goes',
        ],
        [changed((e) => Object.assign(main(e), { id: 'numbered' })), 'terms.label-goes'],
      ] as const) {
        const refused = await refusal(register.record({ ...asking('engraved'), terms: unfit.terms }));
        expect(new Set(codesOf(refused))).toEqual(new Set([code]));
        expect(codesOf(await refusal(register.checkTerms('nine-lights', unfit.terms)))).toContain(code);
      }
      expect(await register.size()).toBe(13);
      await register.record({ ...asking('engraved'), terms: AS_MADE.terms });
      expect(labels(await register.issue(issue))).toEqual(['14/90']);
      expect((await register.terms('nine-lights'))?.events[0]).toMatchObject({ seq: 13 });
    });
  });

  describe('an amendment', () => {
    const longer = changed((e) => Object.assign(main(e), { to: 95, total: { joiner: '/', of: 90 } }));

    test('is an event, shown with what it changed, and holds from then on', async () => {
      const register = await fresh();
      await register.issue(issue);
      const expected = [{ what: 'series main: to', before: '90', now: '95' }];
      expect(await register.checkAmendment({ ...amending, terms: longer.terms })).toEqual(expected);
      expect(await register.size()).toBe(2);
      expect(await register.amend({ ...amending, terms: longer.terms, key: 'a' })).toEqual(expected);
      // Asked again, the same answer, and no second event.
      expect(await register.amend({ ...amending, terms: longer.terms, key: 'a' })).toEqual(expected);
      expect(await register.size()).toBe(3);
      expect(codesOf(await refusal(register.issue(issue)))).toEqual(['terms.differ']);
      expect(await register.issue({ ...ask, ...longer, count: 94 })).toHaveLength(94);
      const recorded = (await register.terms('nine-lights'))!;
      expect(recorded.events.map(({ event }) => [event.type, event.why])).toEqual([
        ['opened', 'the terms of the edition, as first entered'],
        ['amended', 'agreed with the owners'],
      ]);
    });

    test('never changes a label that exists, nor frees a number that did', async () => {
      const register = await fresh();
      await register.issue({ ...issue, count: 3 });
      await register.record({ ...asking('void', PLAN[4]!), terms: AS_MADE.terms });
      const unfit: [ReturnType<typeof changed>, string][] = [
        [changed((e) => Object.assign(main(e).total!, { of: 100 })), 'terms.label-changes'],
        [
          changed((e) => Object.assign(main(e), { to: 2, total: { joiner: '/', of: 90 } })),
          'terms.label-goes',
        ],
        [changed((e) => Object.assign(main(e), { from: 2 })), 'terms.label-goes'],
        [
          changed((e) => Object.assign(main(e), { exclude: [{ numbers: [5], why: 'no' }] })),
          'terms.label-goes',
        ],
        [changed((e) => e.series.shift()), 'terms.label-goes'],
      ];
      for (const [{ terms }, code] of unfit) {
        const refused = await refusal(register.amend({ ...amending, terms }));
        expect([refused.exit, new Set(codesOf(refused))]).toEqual([3, new Set([code])]);
      }
      expect((await register.terms('nine-lights'))?.events).toHaveLength(1);
    });

    test('is refused where there is nothing to amend, no terms, a foreign name, or a closed edition', async () => {
      const register = await fresh();
      const amend = (terms: NamedTerms) => register.amend({ ...amending, terms });
      expect(codesOf(await refusal(amend(longer.terms)))).toEqual(['terms.not-opened']);
      await register.issue(issue);
      expect(codesOf(await refusal(amend(AS_MADE.terms)))).toEqual(['terms.nothing-to-amend']);
      const own = changed((e) => Object.assign(e, { name: 'Harbour Lights' }));
      await register.issue({ ...ask, ...own, edition: 'harbour' });
      expect(codesOf(await refusal(amend(own.terms)))).toEqual(['terms.name-taken']);
      await register.closeEdition({
        ...amending,
        statement: STATEMENT,
        stated: STATED,
        terms: AS_MADE.terms,
      });
      expect(codesOf(await refusal(amend(longer.terms)))).toEqual(['terms.closed']);
    });
  });
}
