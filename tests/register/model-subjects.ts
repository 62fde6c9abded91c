import { planned } from '../../src/edition/labels.js';
import type { EventType } from '../../src/register/event.js';
import type { Recordable, Register } from '../../src/register/register.js';
import type { Standing } from '../../src/register/state.js';
import { editionOf } from '../edition/nine-lights.js';
import { type Command, SERIES, type Shelf, type Subject, type Wording } from './model.js';

export const EDITION = 'three';
export const STATEMENT = '3a'.repeat(32);

const total = { joiner: '/' };
export const THREES = planned(
  editionOf({ id: 'main', to: 3, total }, { id: 'proofs', to: 3, total, before: 'P' }),
);

const partsOf = (series: string): string[] | undefined => (series === 'main' ? [...SERIES.main] : undefined);

export const toldOf = ({ label, state, parts }: Standing): string =>
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
        await register.bringIn([{ ...members, event: type, by }]);
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
    told: async () => (await register.issued(EDITION)).map(toldOf),
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
