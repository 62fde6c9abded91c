const KEEP_BOTH = 'Cosign nothing. Keep both files, and ask the maker: together they are proof.';

/** What a witness outside the house meets. */
export const witnessMessages = {
  // witnesses (C2SP tlog-cosignature and tlog-witness)
  'witness.not-cosigned': {
    exit: 1,
    message: 'It has no cosignature of this key of {name}.',
    hint: 'Ask the maker for one that this witness saw, or the witness for its key.',
  },
  'witness.cosignature-wrong': {
    exit: 1,
    message: 'The cosignature of {name} does not match its text and time.',
    hint: 'Take another copy: this one was altered after it was cosigned.',
  },
  'witness.request-form': {
    exit: 2,
    message: 'It is not what a keeper makes for a witness.',
    hint: 'Ask the keeper for the file that `burin checkpoint --for-witness --out` writes, whole.',
  },
  'witness.nothing-seen': {
    exit: 3,
    message:
      'It continues a log of {old, plural, one {# event} other {# events}}, but you cosigned nothing of this log here.',
    hint: 'If you cosigned it before, put your folder back. Otherwise ask for a first request, without a note.',
  },
  'witness.shorter': {
    exit: 3,
    message:
      'It is for {size, plural, one {# event} other {# events}}, and you cosigned {seen} before: events were taken out of the log, or this is an older file.',
    hint: KEEP_BOTH,
  },
  'witness.other-history': {
    exit: 3,
    message:
      'It has another root for {size, plural, one {# event} other {# events}} than what you cosigned: there are two histories.',
    hint: KEEP_BOTH,
  },
  'witness.not-extended': {
    exit: 3,
    message:
      '{reason} So it is not shown that the log of {size, plural, one {# event} other {# events}} continues that of {seen} which you cosigned.',
    hint: KEEP_BOTH,
  },
  'witness.proof-from-elsewhere': {
    exit: 3,
    message:
      'Its proof begins at {old, plural, one {# event} other {# events}}, and you cosigned {seen} last.',
    hint: 'Give the keeper the last note that you cosigned, and ask for a file made from that.',
  },
  'witness.clock-behind': {
    exit: 3,
    message: 'The clock of this machine says {day}, and you cosigned last on {seen}. Nothing was cosigned.',
    hint: 'Set the clock. If it is right, you cosigned under a wrong one: confirm the day: BURIN_TODAY={day}.',
  },
  'witness.clock-too-early': {
    exit: 3,
    message: 'The clock of this machine is set to a day before {first}. Nothing was cosigned.',
    hint: 'Set the clock: burin is not so old.',
  },
  'witness.clock-far': {
    exit: 3,
    message:
      'The clock of this machine says {day}. That {is, select, ahead {is more than a year after your last cosignature, of {bound}} other {is after {bound}, and you cosigned nothing before}}. Nothing was cosigned.',
    hint: 'Set the clock. If it is right, confirm the day: BURIN_TODAY={day}.',
  },
  'witness.key-exists': {
    exit: 3,
    message: 'There is a key of a witness here already.',
    hint: 'Use it: `burin witness show` prints its public part.',
  },
  'witness.none': {
    exit: 2,
    message: 'There is no key of a witness here.',
    hint: 'Make one with `burin witness new --name NAME`.',
  },
  'witness.key-differs': {
    exit: 3,
    message: 'The public part is not that of the key beside it.',
    hint: 'Put your folder back from its copy.',
  },
  'witness.maker-unreadable': {
    exit: 3,
    message: 'It should hold the keys of a maker, and does not.',
    hint: 'Put your folder back from its copy.',
  },
  'witness.seen-unreadable': {
    exit: 3,
    message: 'It should hold the last note that you cosigned, and does not.',
    hint: 'Put back the note that you cosigned last; the keeper has it too.',
  },
  'witness.other-key': {
    exit: 3,
    message: 'You have another key of this log, and this does not continue its history.',
    hint: "Ask the maker for the history of keys. If there is none, keep both: one of the keys is not the maker's.",
  },
} as const;
