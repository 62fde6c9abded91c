import { table as artwork } from '../artwork/messages.js';
import { table as documents } from '../documents/messages.js';
import { table as layout } from '../layout/messages.js';
import { table as lettering } from '../lettering/messages.js';
import type { MessageTable } from '../problem.js';
import { table as register } from '../register/messages.js';
import { table as station } from '../station/messages.js';
import { table as app } from './messages.js';
import { table as workshop } from './workshop-messages.js';

/** Every message table of the rooms behind the doors, by what its problems are about. A test holds the list complete. */
export const messageTables: Readonly<Record<string, MessageTable>> = {
  artwork,
  documents,
  lettering,
  register,
  layout,
  station,
  app,
  workshop,
};
