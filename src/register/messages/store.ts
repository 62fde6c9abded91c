/** What keeps a store of either kind from being used, moved or copied. */
export const storeMessages = {
  'register.store-closed': { exit: 2, message: 'The register was closed.', hint: 'Open it again.' },
  'register.no-backup': {
    exit: 2,
    message: 'A register on a server is not copied from here.',
    hint: "Have the server's own copies taken, and try that they come back.",
  },
  'register.newer-form': {
    exit: 3,
    message: 'The register is of form {form}; this program knows forms up to {known}.',
    hint: 'Use the newer program that wrote it.',
  },
  'register.busy': {
    exit: 2,
    message: 'Another program has kept the register busy for {seconds} s; nothing was written.',
    hint: 'Let it finish or close it, then ask again.',
  },
  'register.nothing-to-move': {
    exit: 2,
    message: 'There is no register to move.',
    hint: 'Name the workshop that has it.',
  },
  'register.nothing-to-copy': {
    exit: 2,
    message: 'There is no register to copy yet.',
    hint: 'Name the workshop that has it.',
  },
  'register.moved': {
    exit: 3,
    message: 'The register was moved to {register}; this file must not be used any more.',
    hint: 'Name that server in workshop.yaml (`register: postgres://host/database`) or in BURIN_REGISTER.',
  },
  'register.damaged': {
    exit: 3,
    message: 'The register is damaged ({reason}).',
    hint: 'Issue nothing; bring back your last good copy.',
  },

  'register.copy-shorter': {
    exit: 3,
    message:
      'It has {events, plural, one {the first event} other {the first # events}} only; the register stays where it is.',
    hint: 'Name an empty database.',
  },
  'register.copy-differs': {
    exit: 3,
    message: 'Its event {seq} is another; the register stays where it is.',
    hint: 'Name an empty database.',
  },
  'register.copy-lacks-checkpoint': {
    exit: 3,
    message:
      'Its checkpoint of {size, plural, one {# event} other {# events}} differs; the register stays where it is.',
    hint: 'Name an empty database.',
  },
} as const;
