/** What keeps a register from going on past an entry, and what is wrong with entries that it goes past. */
export const resumeMessages = {
  'register.no-such-entry': {
    exit: 3,
    message: 'The register has no such entry.',
    hint: 'Name the entry by its place in the sequence, as `burin audit` does, or a checkpoint by its size.',
  },
  'register.resumed-before': {
    exit: 3,
    message: 'The register went on past this before.',
    hint: 'There is nothing to do. `burin audit` says since when, and why.',
  },
  'register.nothing-wrong': {
    exit: 3,
    message: 'Nothing is wrong with this entry.',
    hint: '{type, select, opened {Terms are changed with `burin amend`} amended {Terms are changed with `burin amend`} resumed {What it passes over had the fault that it says} issued {Record the number void if it is to be on no piece} other {For what was entered by mistake, use `burin correct` or `burin retract`}}.',
  },
  'register.closing-sound': {
    exit: 3,
    message: 'Nothing is wrong with this closing: its statement agrees with the events before it.',
    hint: 'A closed edition stays closed. `burin close EDITION --rewrite` writes its statement again.',
  },
  'register.statement-differs': {
    exit: 3,
    message: 'The statement that it was closed with does not agree with the events before it.',
    hint: 'burin never enters that. Find out who did; go on past it with `burin resume`, and close the edition again.',
  },
  'register.statement-unknown': {
    exit: 3,
    message:
      '{because, select, older {The closing is of an older burin, so the register has only the hash of its statement} other {An entry before the closing was passed over only after it}}. Nobody can tell from the register whether its statement was right.',
    hint: 'Look for the file of the statement. If there never was one, go on past the closing with `burin resume`.',
  },
  'register.key-needed': {
    exit: 3,
    message: 'Without a key of the maker nobody can tell whether the checkpoint or the log is wrong.',
    hint: 'Name the public key or the history of keys as published: --key maker.keys.',
  },
  'register.checkpoint-signed': {
    exit: 3,
    message: 'A key of the maker signed it, so the register is wrong and not the checkpoint.',
    hint: 'Issue nothing; bring back the register that was signed (`burin restore`).',
  },
  'register.no-edition': {
    exit: 2,
    message: 'No edition can be read up to this entry.',
    hint: 'Run it in the workshop that has the documents of its edition.',
  },
  'register.entry-ahead': {
    exit: 3,
    message: 'It was entered at {at}, more than a day ahead of the clock ({clock}).',
    hint: 'Set the clock if it is wrong. If it is right, go on past the entry with `burin resume`.',
  },
  'register.resumed-needlessly': {
    exit: 3,
    message: 'It passes over an entry that had no fault.',
    hint: 'burin never enters that. Find out who did; go on past it with `burin resume`.',
  },
  'register.request-order': {
    exit: 3,
    message: 'It is event {nth} of the request "{key}", and the one before it is not of that request.',
    hint: 'burin never enters that. Find out who did; go on past it with `burin resume`.',
  },
  'register.key-passed-over': {
    exit: 3,
    message: 'The key {key} belongs to an entry that is passed over.',
    hint: 'Ask with a new key.',
  },
  'register.called-issued': {
    exit: 3,
    message: 'Event {entry}, which is passed over, calls the number issued. So it is never issued.',
    hint: 'Take the next free number, and record this one void.',
  },
  'register.time-far-ahead': {
    exit: 3,
    message: 'The time of the entry is more than a day ahead of the clock of the database.',
    hint: 'Compare the clock of this machine with that of the database, set the one that is wrong, and ask again.',
  },
} as const;
