/** Faults of the store itself, found by an audit. */
export const storeFaultMessages = {
  'register.store-object-foreign': {
    exit: 1,
    message: 'The {object} is not part of the register.',
    hint: 'Find out who made it, and have it removed.',
  },
  'register.store-older-form': {
    exit: 1,
    message:
      'It has format {form} of an earlier burin, and this one makes format {known}: not all of its tables, rules and indexes were looked at.',
    hint: 'The next entry brings it up to date. Audit it after that, or with the burin that wrote it.',
  },
  'register.store-version-stray': {
    exit: 1,
    message:
      "The table schema_version was changed by another hand than burin's ({versions}): the tables are of version {form}.",
    hint: 'Find out who did. A copy made with `burin export --jsonl` and `burin restore` is without that.',
  },
  'register.store-object-altered': {
    exit: 1,
    message: 'The {object} was altered.',
    hint: 'Issue nothing; compare the register with your last good copy.',
  },
  'register.store-object-missing': {
    exit: 1,
    message: 'The {object} is missing.',
    hint: 'Issue nothing; compare the register with your last good copy.',
  },
  'register.store-trigger-off': {
    exit: 1,
    message: 'The {object} is off, or does not always fire.',
    hint: 'Have the owner of the register enable it again, and find out who turned it off.',
  },
  'register.store-integrity': {
    exit: 1,
    message: 'The check of the database reports: "{finding}".',
    hint: 'Issue nothing; bring back your last good copy.',
  },
  'register.store-triggers-rest': {
    exit: 1,
    message: 'Triggers do not fire in sessions of this user (session_replication_role is {role}).',
    hint: 'Have the setting removed at the server.',
  },
  'register.connection-not-verified': {
    exit: 1,
    message:
      'The connection is not secured by a certificate of the server (sslmode={mode}): what is read may come from another server, and what is entered may go to it.',
    hint: 'Use sslmode=verify-full, with sslrootcert where the authority is your own.',
  },
  'register.store-index-differs': {
    exit: 1,
    message: 'The {object} does not hold what its table holds.',
    hint: 'Have the index rebuilt, then audit again.',
  },
  'register.store-index-not-read': {
    exit: 1,
    message: 'The {object} was not compared with its table: the server did not read it.',
    hint: 'Have the statistics of the table renewed (ANALYZE), then audit again.',
  },
  'register.store-column-differs': {
    exit: 1,
    message: 'The computed columns of event {seq} are not what its text says.',
    hint: 'Issue nothing; bring back your last good copy.',
  },
} as const;
