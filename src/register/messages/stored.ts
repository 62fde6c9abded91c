/** What can be wrong with events and checkpoints that are stored, or on their way to be. */
export const storedMessages = {
  'register.impossible-history': {
    exit: 3,
    message: '{fault} So the register holds what cannot have happened.',
    hint: 'Issue nothing; compare the register with your last good copy. `burin audit` names the entry; where there is no better copy, `burin resume` goes on past it.',
  },
  'register.damaged-event': {
    exit: 3,
    message:
      '{fault, select, hash {Its text does not match its hash} canonical {Its text is not canonical JSON} other {It is of a kind that this burin does not know}}.',
    hint: 'Issue nothing; compare the register with your last good copy. Where there is no better one, `burin resume` goes on past the entry.',
  },
  'register.event-out-of-sequence': {
    exit: 3,
    message: 'Event {expected} was expected here; nothing was restored.',
    hint: 'Give every event of the other register, in sequence.',
  },
  'register.not-empty': {
    exit: 3,
    message: 'It has events of its own; nothing was restored.',
    hint: 'Restore into a workshop without a register, or into an empty database.',
  },
  'register.checkpoint-exists': {
    exit: 3,
    message: 'Another checkpoint of this size was stored before.',
    hint: 'Keep the first; sign again once there are more events.',
  },
  'register.rolled-back': {
    exit: 3,
    message: 'Event {seq}, which this program has seen, is missing or is another one now.',
    hint: 'Issue nothing; the register was replaced, or went back to an older state.',
  },
  'register.entry-refused': {
    exit: 3,
    message: 'A rule in the tables of the register ({rule}) refuses the entry. Nothing was written.',
    hint: 'List the number with `burin register`, then ask for what its state allows.',
  },
} as const;
