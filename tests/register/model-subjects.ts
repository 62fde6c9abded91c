import { planned } from '../../src/edition/labels.js';
import { type EventType, type Leaf, type RegisterEvent, toLeaf } from '../../src/register/event.js';
import type { NumberStatus } from '../../src/register/lifecycle.js';
import type { Recordable, Register } from '../../src/register/register.js';
import { editionOf } from '../edition/nine-lights.js';
import { NOON } from './ask.js';
import { type Command, SERIES, type Shelf, type Subject, type Wording } from './model.js';

export const EDITION = 'three';
export const STATEMENT = '3a'.repeat(32);

const total = { joiner: '/' };
export const THREES = planned(
  editionOf({ id: 'main', to: 3, total }, { id: 'proofs', to: 3, total, before: 'P' }),
);

const partsOf = (series: string): string[] | undefined => (series === 'main' ? [...SERIES.main] : undefined);

export const toldOf = ({ label, state, parts }: NumberStatus): string =>
  `${label} ${state}: ${parts.map((p) => `${p.part ?? ''} ${p.state} ${p.pieces}`).join(', ')}`;

/** What the event of a command says besides who, when and why. */
export const membersOf = (type: EventType, { series, number, label }: Shelf, { part, witness }: Command) => ({
  ...{ edition: EDITION, series, number, label },
  ...(['engraved', 'scrapped', 'destroyed', 'recut'].includes(type) && { part }),
  ...(type === 'destroyed' && { witness }),
  ...(type === 'issued' && { parts: partsOf(series) }),
});

/** A register through its own door. */
export function throughRegister(register: Register): Subject {
  return {
    enter: async (type, shelf, command, key) => {
      const { by } = command;
      if (type === 'closed') {
        await register.closeEdition({ edition: EDITION, statement: STATEMENT, by, key });
        return undefined;
      }
      const members = membersOf(type, shelf, command);
      if (type === 'issued') {
        await register.importEvents([{ ...members, event: type, by }]);
        return undefined;
      }
      return toldOf(await register.record({ ...members, event: type as Recordable, by, key }));
    },
    next: async (series, { by }, key) => {
      const planned = THREES;
      const [got] = await register.issue({
        ...{ edition: EDITION, series, planned, count: 1, parts: partsOf(series), by, key },
      });
      return got!.label;
    },
    told: async () => (await register.statuses(EDITION)).map(toldOf),
    size: () => register.size(),
    end: () => register.close(),
  };
}

/** What the register says for each reason. */
export const REGISTER_SAYS: Wording = {
  closed: /closed/,
  void: /It is void/,
  withheld: /It is withheld and cannot/,
  'not issued': /It was not issued and cannot/,
  'issued before': /issued twice/,
  'none left': /none left/,
  'no such part': /No part/,
  'not blank': /engraved already|cannot be engraved/,
  'scrapped before': /(scrapped|destroyed) already/,
  'not scrapped': /not scrapped/,
  'same person': /cannot be its witness/,
  'not destroyed': /not destroyed/,
  'not engraved': /cannot be inspected/,
  'not inspected': /cannot be delivered|delivered before/,
  'left or spoilt': /cannot be withheld/,
  'not withheld': /not withheld/,
  'still borne': /still bears the number/,
};

/** Tables reached past the program. */
export interface Tables {
  put(leaf: Leaf): Promise<void>;
  size(): Promise<number>;
  end(): Promise<void>;
}

/** Tables alone: what their triggers let pass is what the program would enter. */
export function throughTables(register: Register, tables: Tables): Subject {
  const done = new Map<string, string | undefined>();
  const put = (event: object) => {
    const told = { at: NOON.toISOString(), why: 'by hand', ...event };
    return tables.put(toLeaf(JSON.parse(JSON.stringify(told)) as RegisterEvent));
  };
  const reader = throughRegister(register);
  return {
    enter: async (type, shelf, command, key) => {
      if (done.has(key)) return done.get(key);
      const members =
        type === 'closed' ? { edition: EDITION, statement: STATEMENT } : membersOf(type, shelf, command);
      await put({ type, by: command.by, ...members });
      done.set(key, undefined);
      return undefined;
    },
    next: async (series, command, key) => {
      if (done.has(key)) return done.get(key)!;
      // Nothing here picks a number: the first that the triggers let pass must be the one the model picks.
      for (const shelf of THREES.filter((one) => one.series === series)) {
        try {
          await put({ type: 'issued', by: command.by, ...membersOf('issued', shelf as never, command) });
          done.set(key, shelf.label);
          return shelf.label;
        } catch (error) {
          if (!/issued before|issued_(label|number)|withheld or void/.test(String(error))) throw error;
        }
      }
      throw new Error('none left');
    },
    told: () => reader.told(),
    size: () => tables.size(),
    end: async () => {
      await tables.end();
      await reader.end();
    },
  };
}

// Where several things stand against an event, the order the triggers look in is the database's own.
const SEVERAL = /^(this (edition|number|label|part|piece)|the (witness|piece)|no such number|something)/;
export const TRIGGERS_SAY: Wording = {
  closed: SEVERAL,
  void: SEVERAL,
  withheld: SEVERAL,
  'not issued': SEVERAL,
  'issued before': /issued before|issued_(label|number)|closed/,
  'none left': /none left/,
  'no such part': SEVERAL,
  'not blank': /not blank/,
  'scrapped before': /was scrapped before/,
  'not scrapped': /not scrapped/,
  'same person': SEVERAL,
  'not destroyed': /not destroyed/,
  'not engraved': /not just engraved/,
  'not inspected': /not just inspected/,
  'left or spoilt': /delivered, scrapped or destroyed/,
  'not withheld': /not withheld/,
  'still borne': /still bears/,
};

/** That chance went everywhere: each event done, and refused for each of its own reasons. */
export const EVERYWHERE = [
  ...['issued: done', 'issued: void', 'issued: withheld', 'issued: issued before', 'issued: closed'],
  ...['issued: none left', 'engraved: done', 'engraved: not blank', 'engraved: no such part'],
  ...['engraved: withheld', 'engraved: void', 'engraved: not issued', 'inspected: done'],
  ...['inspected: not engraved', 'delivered: done', 'delivered: not inspected', 'withheld: done'],
  ...['withheld: withheld', 'withheld: left or spoilt', 'withheld: closed', 'released: done'],
  ...['released: not withheld', 'scrapped: done', 'scrapped: scrapped before', 'destroyed: done'],
  ...['destroyed: not scrapped', 'destroyed: same person', 'recut: done', 'recut: not destroyed'],
  ...['void: done', 'void: still borne', 'void: void', 'closed: done', 'closed: closed'],
];
