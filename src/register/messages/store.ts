/** What keeps a store of either kind from being used, moved or copied. */
export const storeMessages = {
  'register.store-closed': {
    exit: 2,
    message: 'The command let go of the register before its work was done.',
    hint: 'This is a fault of burin: report it.',
  },
  'register.grew-meanwhile': {
    exit: 3,
    message: 'Another person made an entry meanwhile, so yours was not made.',
    hint: 'Ask again.',
  },
  'register.no-backup': {
    exit: 2,
    message: 'burin does not copy a register on a server.',
    hint: 'Back it up with the tools of the server, and test that the backup can be restored.',
  },
  'register.no-roles': {
    exit: 2,
    message: 'This register is a file; only a server has roles.',
    hint: 'Give rights to the file by its owner and permissions, or move the register to a server.',
  },
  'register.newer-form': {
    exit: 3,
    message: 'The register has format {form}, and this burin knows formats up to {known}.',
    hint: 'Use the newer burin that wrote it.',
  },
  'register.busy': {
    exit: 2,
    message: 'Another program has kept the register locked for {seconds} s. Nothing was written.',
    hint: 'Let that program finish or close it, then ask again.',
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
    message: 'The register was moved to {register}. This file must not be used any more.',
    hint: 'Name that server in workshop.yaml (`register: postgres://host/database`) or in BURIN_REGISTER. If it never was moved, or that server is lost for good, `burin export --jsonl` still reads the file: see `docs/resume.md`.',
  },
  'register.damaged': {
    exit: 3,
    message:
      'The register is damaged: {error, select, tables {a table, a column or a function is missing} other {it cannot be read (error {error})}}.',
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
    message: 'Its event {seq} differs from that of the register; the register stays where it is.',
    hint: 'Name an empty database.',
  },
  'register.copy-lacks-checkpoint': {
    exit: 3,
    message:
      'Its checkpoint of {size, plural, one {# event} other {# events}} differs; the register stays where it is.',
    hint: 'Name an empty database.',
  },
} as const;
