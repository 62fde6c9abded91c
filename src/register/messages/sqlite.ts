/** What keeps a register in a file from being used. */
export const sqliteMessages = {
  'register.file-gone': {
    exit: 3,
    message: 'The register is gone, but {companion} is still there.',
    hint: 'Put the register file back, or restore a copy. A new one would issue every number again.',
  },
  'register.not-a-file': {
    exit: 2,
    message:
      'This is {kind, select, folder {a folder} other {a pipe, a socket or a device}}, and not the file of a register.',
    hint: 'Put the register file in its place.',
  },
  'register.folder-missing': {
    exit: 2,
    message: 'The folder of the register is missing.',
    hint: 'Name the folder of a workshop.',
  },
  'register.no-write-ahead-log': {
    exit: 2,
    message: 'This disk cannot keep a register safely (no write-ahead log).',
    hint: 'Keep the workshop on a disk of this machine.',
  },
  'register.file-replaced': {
    exit: 3,
    message: 'The register was moved or replaced while this program had it open.',
    hint: 'Put the right file in its place and start the program again.',
  },
  'register.other-database': {
    exit: 3,
    message: 'This is a database, but not a register.',
    hint: 'Name the register of the workshop.',
  },
  'register.not-a-database': {
    exit: 3,
    message: 'This is not a register.',
    hint: 'Name the register of the workshop, or bring back a copy.',
  },
  'register.disk-full': {
    exit: 2,
    message: 'The disk is full. Nothing was written.',
    hint: 'Free some space, then ask again, with the same key if there was one.',
  },
  'register.file-not-writable': {
    exit: 2,
    message: 'The register cannot be opened for writing.',
    hint: 'Check the path, its owner and permissions.',
  },
  'register.file-not-readable': {
    exit: 2,
    message: 'The register cannot be read (error {error}).',
    hint: 'Check the path and permissions.',
  },
  'register.file-changing': {
    exit: 2,
    message: 'The register is being written to, and its folder takes no files of this user.',
    hint: 'Ask again, or ask as a user who may write there.',
  },
  'register.disk-failed': {
    exit: 2,
    message: 'The disk fails (error {error}).',
    hint: 'Check the disk, then ask again with the same key.',
  },
  'register.copy-exists': {
    exit: 2,
    message: 'There is a file already. A copy never overwrites one.',
    hint: 'Give the copy a new name.',
  },
  'register.copy-folder-missing': {
    exit: 2,
    message: 'The folder for the copy does not exist.',
    hint: 'Create the folder, or name another.',
  },
  'register.copy-not-written': {
    exit: 2,
    message: 'The copy cannot be written (error {error}).',
    hint: 'Name a place on a disk that has room and can be written.',
  },
  'register.copy-unsound': {
    exit: 3,
    message: 'The copy is damaged.',
    hint: 'Issue nothing. Run `burin audit` on the register itself.',
  },
} as const;
