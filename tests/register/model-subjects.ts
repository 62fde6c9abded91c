import { plannedNumbers } from '../../src/edition/labels.js';
import { type EventType, type Leaf, type RegisterEvent, toLeaf } from '../../src/register/event.js';
import type { NumberStatus } from '../../src/register/lifecycle.js';
import type { Recordable, Register } from '../../src/register/register.js';
import { editionOf } from '../edition/nine-lights.js';
import { NOON, STATED } from './ask.js';
import { codeIn } from './by-hand.js';
import { type Codes, type Placed, SERIES, type Shelf, type Subject } from './model.js';

export const EDITION = 'three';
export const STATEMENT = '3a'.repeat(32);

const total = { joiner: '/' };
export const THREES = plannedNumbers(
  editionOf({ id: 'main', to: 3, total }, { id: 'proofs', to: 3, total, before: 'P' }),
);

/** Moments of a day on which everything may have happened. */
const momentOf = (turn: number) => new Date(NOON.getTime() + turn).toISOString();

const partsOf = (series: string): string[] | undefined => (series === 'main' ? [...SERIES.main] : undefined);

export const describeStatus = ({ label, state, parts }: NumberStatus): string =>
  `${label} ${state}: ${parts.map((p) => `${p.part ?? ''} ${p.state} ${p.pieces}`).join(', ')}`;

/** What the event of a command says besides who, when and why. */
export const membersOf = (type: EventType, { series, number, label }: Shelf, command: Placed) => ({
  ...{ edition: EDITION, series, number, label },
  ...(['engraved', 'scrapped', 'destroyed', 'recut', 'programmed'].includes(type) && { part: command.part }),
  ...(type === 'destroyed' && { witness: command.witness }),
  ...(['corrected', 'retracted'].includes(type) && {
    corrects: command.corrects,
    ...(command.confirmed && { witness: command.witness }),
  }),
  ...(type === 'corrected' &&
    (command.what === 'buyer' ? { to: `C. Lark ${command.turn}` } : { day: momentOf(command.turn) })),
  ...(type === 'programmed' && { station: 'bench-two', digest: STATEMENT }),
  ...(type === 'certified' && { serial: command.serial, digest: STATEMENT }),
  ...(type === 'issued' && { parts: partsOf(series) }),
});

/** A register through its own door. */
export function throughRegister(register: Register): Subject {
  return {
    enter: async (type, shelf, command, key) => {
      const { by } = command;
      if (type === 'closed') {
        await register.closeEdition({ edition: EDITION, statement: STATEMENT, stated: STATED, by, key });
        return undefined;
      }
      const members = membersOf(type, shelf, command);
      if (type === 'issued') {
        await register.importEvents([{ ...members, event: type, by }]);
        return undefined;
      }
      return describeStatus(await register.record({ ...members, event: type as Recordable, by, key }));
    },
    next: async (series, { by }, key) => {
      const planned = THREES;
      const [got] = await register.issue({
        ...{ edition: EDITION, series, planned, count: 1, parts: partsOf(series), by, key },
      });
      return got!.label;
    },
    statuses: async () => (await register.statuses(EDITION)).map(describeStatus),
    size: () => register.size(),
    end: () => register.close(),
  };
}

/** Tables reached past the program. */
export interface Tables {
  put(leaf: Leaf): Promise<void>;
  size(): Promise<number>;
  end(): Promise<void>;
}

/** Why a number is passed over when the next free one is looked for. */
const PASSED_OVER = ['issued-before', 'number-withheld', 'number-void'].map((code) => `register.${code}`);
const NONE_LEFT = 'no number was free';

/** Tables alone: what their triggers let pass is what the program would enter. */
export function throughTables(register: Register, tables: Tables): Subject {
  const done = new Map<string, string | undefined>();
  const put = (event: object) => {
    const whole = { at: NOON.toISOString(), why: 'by hand', ...event };
    return tables.put(toLeaf(JSON.parse(JSON.stringify(whole)) as RegisterEvent));
  };
  const reader = throughRegister(register);
  return {
    enter: async (type, shelf, command, key) => {
      if (done.has(key)) return done.get(key);
      const members =
        type === 'closed'
          ? { edition: EDITION, statement: STATEMENT, stated: STATED }
          : membersOf(type, shelf, command);
      await put({ type, by: command.by, ...members });
      done.set(key, undefined);
      return undefined;
    },
    next: async (series, command, key) => {
      if (done.has(key)) return done.get(key)!;
      // Nothing here picks a number: the first that the triggers let pass must be the one the model picks.
      for (const shelf of THREES.filter((one) => one.series === series)) {
        try {
          await put({
            type: 'issued',
            by: command.by,
            ...membersOf('issued', shelf as never, command as Placed),
          });
          done.set(key, shelf.label);
          return shelf.label;
        } catch (error) {
          if (!PASSED_OVER.includes(codeIn(error))) throw error;
        }
      }
      throw new Error(NONE_LEFT);
    },
    statuses: () => reader.statuses(),
    size: () => tables.size(),
    end: async () => {
      await tables.end();
      await reader.end();
    },
  };
}

/** The codes that register and tables give for each reason of the model: the same, from one table of transitions. */
export const CODES: Codes = {
  // A request for the next number is refused as such; tables by themselves have no numbers left to try.
  closed: ['register.edition-closed', 'register.closed-before', 'register.closed-to-issue', NONE_LEFT],
  void: ['register.number-void'],
  withheld: ['register.number-withheld'],
  'not issued': ['register.not-issued'],
  'issued before': ['register.issued-before'],
  'none left': ['register.too-few-free', NONE_LEFT],
  'no such part': ['register.no-such-part'],
  'not blank': ['register.part-not-blank'],
  'scrapped before': ['register.part-already-scrapped'],
  'not scrapped': ['register.part-not-scrapped'],
  'same person': ['register.own-witness'],
  'not destroyed': ['register.part-not-destroyed'],
  'not engraved': ['register.piece-not-engraved'],
  'not inspected': ['register.piece-not-inspected'],
  'left or spoilt': ['register.too-late-to-withhold'],
  'not withheld': ['register.not-withheld'],
  'still borne': ['register.number-on-piece'],
  missing: ['register.number-missing'],
  'not missing': ['register.not-missing'],
  'nothing to miss': ['register.nothing-to-miss'],
  'not delivered': ['register.piece-not-delivered'],
  'no such event': ['register.no-such-event'],
  'not the last': ['register.not-last-event'],
  'nobody confirms': ['register.no-second-person'],
  'no paper yet': ['register.not-certifiable'],
};

/** On PostgreSQL a unique index refuses a second issue before the triggers look at what else is against it. */
const INDEX_FIRST = (['closed', 'void', 'withheld'] as const).map(
  (reason) => [reason, [...CODES[reason], 'register.issued-before']] as const,
);
export const POSTGRES_TABLE_CODES: Codes = { ...CODES, ...Object.fromEntries(INDEX_FIRST) };

/** That chance went everywhere: each event done, and refused for each of its own reasons. */
export const EVERYWHERE = [
  ...['issued: done', 'issued: void', 'issued: withheld', 'issued: issued before', 'issued: closed'],
  ...['issued: none left', 'engraved: done', 'engraved: not blank', 'engraved: no such part'],
  ...['engraved: withheld', 'engraved: void', 'engraved: not issued', 'inspected: done'],
  ...['inspected: not engraved', 'delivered: done', 'delivered: not inspected', 'withheld: done'],
  ...['withheld: withheld', 'withheld: left or spoilt', 'withheld: closed', 'released: done'],
  ...['released: not withheld', 'scrapped: done', 'scrapped: scrapped before', 'destroyed: done'],
  ...['destroyed: not scrapped', 'destroyed: same person', 'recut: done', 'recut: not destroyed'],
  ...['returned: done', 'returned: not delivered', 'lost: done', 'lost: nothing to miss', 'found: done'],
  ...['found: not missing', 'noted: done', 'corrected: done', 'corrected: no such event', 'retracted: done'],
  ...['retracted: not the last', 'retracted: nobody confirms', 'programmed: done', 'programmed: not blank'],
  ...['certified: done', 'certified: no paper yet', 'delivered: missing', 'stolen: done'],
  ...['void: done', 'void: still borne', 'void: void', 'closed: done', 'closed: closed'],
];
