const OTHER_WORKSHOP =
  'Put its register back. Another workshop needs a new folder, and a name of its own in workshop.yaml. `burin restore --by NAME --why REASON` goes on with this register (docs/gate.md).';

/** A workshop or register that is not the one this machine knows, and going on after a loss. */
export const lossMessages = {
  'gate.name-of-another': {
    exit: 3,
    message:
      'This machine knows a workshop of this name in {folder}, with {size, plural, one {# event} other {# events}} in its register {place}. This is another register.',
    hint: OTHER_WORKSHOP,
  },
  'gate.folder-of-another': {
    exit: 3,
    message:
      'This machine knows the workshop of this folder ({folder}) with {size, plural, one {# event} other {# events}} in its register {place}. This is another register.',
    hint: OTHER_WORKSHOP,
  },
  'gate.identity-gone': {
    exit: 3,
    message:
      'This workshop has neither an identity nor a register, but this machine saw {size, plural, one {# event} other {# events}} in its register {place} (folder {folder}).',
    hint: OTHER_WORKSHOP,
  },
  'gate.register-gone': {
    exit: 3,
    message:
      'This register is empty or missing. The workshop has an identity (workshop.id), which its first entry makes, so it had a register.',
    hint: 'Enter and cut nothing. Put the newest register back; if it is lost, `burin restore` goes on without it (docs/gate.md). Another workshop needs a new folder without workshop.id.',
  },
  'restore.key-missing': {
    exit: 2,
    message: 'It is signed, and no public key was given to check it with.',
    hint: 'Give the public key of the maker with --key.',
  },
  'restore.sheet-altered': {
    exit: 2,
    message:
      'This run sheet was altered: its tables should have {listed, plural, one {# row} other {# rows}}, and have {rows}.',
    hint: 'Give the file as burin wrote it; files.sha256 beside it has its hash.',
  },
  'restore.unsigned': {
    exit: 3,
    message:
      '{n, plural, one {# event of it is} other {# events of it are}} covered by no signature that was checked: whoever could write the file could have put them there.',
    hint: "Give the maker's public key with --key, and the newest checkpoint. To take them as they are, give --by and --why.",
  },
  'restore.not-empty': {
    exit: 3,
    message: 'The register has events, and no export given goes on from them.',
    hint: 'Restore into an empty workshop; or give --by and --why to enter only the numbers that this register lacks.',
  },
  'restore.edition-unknown': {
    exit: 2,
    message: 'It is of edition {edition}, which this workshop does not have.',
    hint: 'Put the document of the edition back first.',
  },
  'restore.not-entered': {
    exit: 3,
    message: '{fault}',
    hint: 'What papers prove of this number was not entered; compare the piece with them, and record what is true.',
  },
  'restore.other-history': {
    exit: 3,
    message: 'The register has other events than those it was signed for.',
    hint: 'Its numbers are taken from the papers given; what came after it in another copy is not known.',
  },
  'restore.nobody-answers': {
    exit: 3,
    message:
      'Something is lost: {size} of {claimed} events are here, {missing} are unaccounted for, and {numbers, plural, one {# number} other {# numbers}} would be entered from papers. Nothing was entered.',
    hint: 'Look for a newer copy and for more papers. To go on without, give --by and --why; --dry-run shows what would be entered.',
  },
  'workshop.identity-unreadable': {
    exit: 3,
    message: 'It should hold the identity of this workshop, 32 hexadecimal digits, and does not.',
    hint: 'Put it back from a copy of the folder; where there is none, delete it.',
  },
} as const;
