/** Keys, signing, and witnesses outside the house. */
export const keyMessages = {
  'sign.key-elsewhere': {
    exit: 2,
    message: 'The key of this log is not on this machine.',
    hint: 'Sign where the key is, or restore it from its copy.',
  },
  'sign.no-key': { exit: 2, message: 'There is no key yet.', hint: 'Make one with `burin key new`.' },
  'key.none': { exit: 2, message: 'There is no key of {origin}.', hint: 'Make one with `burin key new`.' },
  'sign.key-retired': {
    exit: 2,
    message: 'The key of this log was retired, and there is no next one yet.',
    hint: 'Make it with `burin key new`.',
  },
  'sign.key-not-in-use': {
    exit: 3,
    message: 'The key here is not the one that the history of keys has in use.',
    hint: 'Compare `burin key show` with `burin key show --history`; put the right key back.',
  },
  'key.no-reason': {
    exit: 2,
    message: 'No reason is given for ending the key.',
    hint: 'Give --reason planned, lost or stolen.',
  },
  'key.not-for-this': {
    exit: 2,
    message: 'The option {option} is not for `key {what}`.',
    hint: 'Leave it out; see `burin key --help`.',
  },
  'key.planned-ends-now': {
    exit: 2,
    message: 'A key that is replaced as planned ends with what it signs now.',
    hint: 'Leave --at out, or give another reason.',
  },
  'key.still-in-use': {
    exit: 3,
    message: 'The history of keys has a key of {origin} in use, and it is not here.',
    hint: 'Put it back from its copy. If there is none, `burin key retire --reason lost`.',
  },
  'key.not-lost': {
    exit: 2,
    message: 'The key is here, so it is not lost.',
    hint: 'Give --reason planned, or stolen if others may have it.',
  },
  'key.gone': {
    exit: 2,
    message: 'The key is not here, and so cannot sign the handover.',
    hint: 'Put it back from its copy. If there is none, give --reason lost.',
  },
  'key.unknown-before': {
    exit: 2,
    message: 'Nothing here says which key of {origin} ends.',
    hint: 'Give the public key or the history that you published, with --key.',
  },
  'key.other-history': {
    exit: 2,
    message: 'What was given does not continue the keys of {origin} that are known here.',
    hint: 'Give the newest history that you published.',
  },
  'key.end-out-of-range': {
    exit: 2,
    message:
      'The key begins at {first, plural, one {# event} other {# events}}, and the register has {size}: it cannot end at {at}.',
    hint: 'Give --at a size between the two.',
  },
  'key.handover-unsigned': {
    exit: 3,
    message:
      'The key before it ended as planned and must sign the handover, but {what, select, key {it is not here} other {what it signed last is not here}}.',
    hint: 'Put it back beside the new one. If it is gone, `burin key retire --reason lost`.',
  },
  'witness.log-unknown': {
    exit: 2,
    message: 'You do not witness this log.',
    hint: "Get the maker's public key from a source you trust, and `burin witness add` it.",
  },
  'witness.file': {
    exit: 2,
    message: 'It {wanted, select, yes {needs a file} other {takes no file}}.',
    hint: 'See `burin witness --help`.',
  },
  'witness.name': {
    exit: 2,
    message: 'It {wanted, select, yes {needs --name (who you are)} other {takes no --name}}.',
    hint: 'See `burin witness --help`.',
  },
  'witness.line-unreadable': {
    exit: 2,
    message: '{reason}',
    hint: 'Give the line that the witness prints with `burin witness show`.',
  },
  'witness.note-of-other-log': {
    exit: 2,
    message: 'It is a note of the log {origin}, and this is {name}.',
    hint: 'Give the last note of this log that the witness cosigned.',
  },
  'witness.not-ours': {
    exit: 3,
    message: 'It is not a plain checkpoint of the log {origin}.',
    hint: 'Give the note that the witness wrote back.',
  },
  'witness.other-register': {
    exit: 3,
    message:
      'The register did not begin with the {size, plural, one {# event} other {# events}} that it was signed for.',
    hint: 'Sign nothing and issue nothing; compare the register with your last good copy.',
  },
  'witness.kept-unreadable': {
    exit: 3,
    message: '{reason} It should be a checkpoint with cosignatures.',
    hint: 'Put it back with `burin checkpoint --cosigned`, or move it away.',
  },
  'checkpoint.options': {
    exit: 2,
    message: 'These options do not go together.',
    hint: 'Give --for-witness, or --cosigned with --witness, or neither.',
  },
} as const;
