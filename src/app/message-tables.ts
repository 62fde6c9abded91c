import { table as artwork } from '../artwork/messages.js';
import { table as cutting } from '../cutting/messages.js';
import { fixes } from '../cutting/phrases.js';
import { table as csv } from '../documents/csv/messages.js';
import { table as documents } from '../documents/messages.js';
import { table as edition } from '../edition/messages.js';
import { differences, nearMisses, reasons } from '../edition/phrases.js';
import { table as layout } from '../layout/messages.js';
import { changes, markLimits } from '../layout/phrases.js';
import { table as lettering } from '../lettering/messages.js';
import type { MessageTable, PhraseTable } from '../problem.js';
import { table as audit } from '../register/audit/messages.js';
import { table as certificate } from '../register/certificate/messages.js';
import { table as cuttable } from '../register/cuttable/messages.js';
import { table as restore } from '../register/export/messages.js';
import { table as importing } from '../register/import/messages.js';
import { table as log } from '../register/log/messages.js';
import { table as register } from '../register/messages.js';
import { faults, fields } from '../register/phrases.js';
import { table as stocktake } from '../register/stocktake/messages.js';
import { table as terms } from '../register/terms/messages.js';
import { table as station } from '../station/messages.js';
import { surfaceObstacles } from '../surface/phrases.js';
import { table as app } from './messages.js';
import { table as workshop } from './workshop-messages.js';

/** Every message table of the rooms behind the doors, by what its problems are about. A test holds the list complete. */
export const messageTables: Readonly<Record<string, MessageTable>> = {
  artwork,
  documents,
  lettering,
  cutting,
  register,
  layout,
  station,
  edition,
  log,
  certificate,
  audit,
  stocktake,
  terms,
  import: importing,
  restore,
  cuttable,
  csv,
  app,
  workshop,
};

/** The phrases that stand in messages, by what they tell. The same test holds them complete. */
export const phraseTables: Readonly<Record<string, PhraseTable>> = {
  'differences between texts': differences,
  'reasons for a suggestion': reasons,
  suggestions: nearMisses,
  'faults of a request': faults,
  'what a request says': fields,
  'what a surface is kept clear of': surfaceObstacles,
  'what limits a mark': markLimits,
  'changes to a fit': changes,
  'changes to a cut': fixes,
};
