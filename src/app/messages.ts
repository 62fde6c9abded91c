import { defineMessages } from '../problem.js';

const CUT_AGAIN =
  'Nothing was put in place. Check whether another program writes there or the disk fails, then ask again.';

const OTHER_WORKSHOP =
  'Put its register back, or for another workshop take a new folder and a name of its own in workshop.yaml. `burin restore --by NAME --why REASON` goes on with this register (docs/gate.md).';

export const { table, problem, refuse } = defineMessages({
  'gate.name-of-another': {
    exit: 3,
    message:
      'A workshop of this name is known on this machine, in {folder}, and {size, plural, one {# event} other {# events}} of its register in {place}; this is another register.',
    hint: OTHER_WORKSHOP,
  },
  'gate.folder-of-another': {
    exit: 3,
    message:
      'This machine knows the workshop of this folder with {size, plural, one {# event} other {# events}} of its register in {place} (folder {folder}); this is another register.',
    hint: OTHER_WORKSHOP,
  },
  'gate.identity-gone': {
    exit: 3,
    message:
      'This workshop has neither identity nor register, but this machine saw {size, plural, one {# event} other {# events}} of it in {place} (folder {folder}).',
    hint: OTHER_WORKSHOP,
  },
  'restore.key-missing': {
    exit: 2,
    message: 'It is signed, and no public key was given to check it with.',
    hint: 'Give the public key of the maker with --key.',
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
  'app.out-is-a-file': {
    exit: 2,
    message: 'This is a file, but the output goes to a folder.',
    hint: 'Name a folder, or a name not yet taken.',
  },
  'app.place-taken': {
    exit: 2,
    message: 'Something else is where a {wanted} is to be put. Nothing was changed.',
    hint: 'Move it away, or name another folder.',
  },
  'app.staged-file-missing': {
    exit: 1,
    message: 'The file was written but is no longer there.',
    hint: CUT_AGAIN,
  },
  'app.staged-file-foreign': {
    exit: 1,
    message: 'Another program put this file among the files to be put in place.',
    hint: CUT_AGAIN,
  },
  'app.staged-file-differs': {
    exit: 1,
    message: 'The bytes on disk are not those that were written.',
    hint: CUT_AGAIN,
  },
  'app.certificate-font-missing': {
    exit: 2,
    message: 'The font {file} of the certificates is not installed.',
    hint: 'Install burin again with everything it needs.',
  },
  'app.no-number-mark': {
    exit: 2,
    message: 'No design of the edition cuts its number.',
    hint: 'Add a mark of `kind: number` to one of its designs.',
  },
  'app.file-not-ours': {
    exit: 3,
    message: 'There is another file of this name, which this command did not write.',
    hint: 'Name another file; nothing was written.',
  },
  'app.not-on-disk': {
    exit: 2,
    message: 'It is not there.',
    hint: 'Check the name.',
  },
  'app.disk-denied': {
    exit: 2,
    message: 'You may not read or write it.',
    hint: 'Check its owner and permissions, or name another.',
  },
  'app.disk-read-only': {
    exit: 2,
    message: 'It is on a disk that is read-only.',
    hint: 'Name a folder on another disk.',
  },
  'app.disk-full': {
    exit: 2,
    message: 'It cannot be written: the disk is full.',
    hint: 'Free some space, then ask again.',
  },
  'app.disk-quota': {
    exit: 2,
    message: 'It cannot be written: your share of the disk is full.',
    hint: 'Free some space, then ask again.',
  },
  'app.file-too-large': {
    exit: 2,
    message: 'It cannot be written: a file would be too large.',
    hint: 'Ask for fewer pieces at once.',
  },
  'app.is-a-folder': {
    exit: 2,
    message: 'It is a folder.',
    hint: 'Name a file.',
  },
  'app.not-a-folder': {
    exit: 2,
    message: 'There is a file where a folder is needed.',
    hint: 'Name another folder.',
  },
  'app.name-taken': {
    exit: 2,
    message: 'Something of this name is there already.',
    hint: 'Move it away, or name another.',
  },
  'app.name-too-long': {
    exit: 2,
    message: 'The name is too long.',
    hint: 'Choose a shorter one.',
  },
  'app.link-loop': {
    exit: 2,
    message: 'It is a link that leads to itself.',
    hint: 'Correct the link, or name another file.',
  },
  'app.too-many-open': {
    exit: 2,
    message: 'It cannot be opened: too many files are open.',
    hint: 'Close other programs, then ask again.',
  },
  'app.disk-silent': {
    exit: 2,
    message: 'The disk fails ({detail}).',
    hint: 'Check the disk, then ask again.',
  },
  'app.no-such-surface': {
    exit: 2,
    message: 'The part has no surface {surface}.',
    hint: 'Its surfaces: {known}.',
  },
  'app.not-two-numbers': {
    exit: 2,
    message: '"{line}" is not {columns}.',
    hint: 'Give two numbers with a comma between.',
  },
  'app.point-too-far': {
    exit: 2,
    message: '"{line}" is farther away than any surface reaches.',
    hint: 'Give a point of the surface.',
  },
  'app.point-past-apex': {
    exit: 2,
    message: '"{line}" lies past the tip of the cone.',
    hint: 'Give a point of the surface.',
  },
  'app.program-of-other-edition': {
    exit: 1,
    message: 'The program is for edition {edition}, which this workshop does not have.',
    hint: 'Name the workshop that it was written in.',
  },
  'app.program-of-no-operation': {
    exit: 1,
    message: 'The edition cuts nothing on surface {surface} of {part} with cutter {cutter}.',
    hint: 'Cut the piece again.',
  },
  'app.program-of-other-design': {
    exit: 1,
    message: 'The design has changed since the program was written.',
    hint: 'Cut the piece again.',
  },
  'app.program-label-unknown': {
    exit: 1,
    message: 'The edition has no label {label}.',
    hint: 'Cut the piece again.',
  },
  'app.program-station-unknown': {
    exit: 1,
    message: 'The workshop does not have the station of the set-up `{station}`.',
    hint: 'Name the workshop that it was written in.',
  },
  'audit.edition-not-named': {
    exit: 2,
    message: 'No edition is named.',
    hint: 'Name the edition that was counted.',
  },
  'audit.edition-without-series': {
    exit: 2,
    message: 'Neither a document nor the register says which numbers this edition has.',
    hint: 'Restore its document, then compare the shelves.',
  },
  'verify.page-given': {
    exit: 2,
    message: 'This is the page of a certificate, which does not hold the proof.',
    hint: 'Give the .json file beside or inside it, or the text of its codes in a file.',
  },
  'record.event-unknown': {
    exit: 2,
    message: '"{event}" is not an event of a number.',
    hint: 'Give one of: {known}.',
  },
  'record.no-reason': {
    exit: 2,
    message: 'No reason is given for {event}.',
    hint: 'Say why, for whoever reads the register later: --why "...".',
  },
  'record.no-number': {
    exit: 2,
    message: 'No number is named.',
    hint: 'Name labels, tickets or ranges such as 12/90..20/90, or a list with --list.',
  },
  'record.one-number': {
    exit: 2,
    message: '{text} names several numbers.',
    hint: 'Name one number by its label or ticket.',
  },
  'record.list-empty': {
    exit: 2,
    message: 'The list has a heading and no rows.',
    hint: 'Name the right file.',
  },
  'register.state-unknown': {
    exit: 2,
    message: 'No number is ever {state}.',
    hint: 'The states are: {known}.',
  },
  'correct.nothing-stands': {
    exit: 3,
    message:
      'The number has {event, select, delivered {no delivery that could be corrected} corrected {no event that could be corrected} other {no event that could be retracted}}.',
    hint: '`burin register {edition} "{label}"` lists its events.',
  },
  'issue.by-count-or-label': {
    exit: 2,
    message:
      '{given, select, both {A count and labels are both given} other {Neither a count nor a label is given}}.',
    hint: 'Give --series and --count for the next free numbers, or --labels for chosen ones.',
  },
  'issue.no-series': {
    exit: 2,
    message: 'No series is named.',
    hint: 'Name it with --series: {known}.',
  },
  'issue.no-reason': {
    exit: 2,
    message: 'No reason is given for choosing numbers out of their order.',
    hint: 'Say why, for whoever reads the register later: --why "...".',
  },
  'issue.several-series': {
    exit: 2,
    message: 'The labels are of several series: {series}.',
    hint: 'Issue those of each series by themselves.',
  },
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
    message: 'Why the key ends is not said.',
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
  'close.closed-before': {
    exit: 3,
    message: 'The edition is closed already.',
    hint: 'An edition is closed once; nothing is left to do.',
  },
  'close.nothing-issued': {
    exit: 2,
    message: 'No number of the edition is issued.',
    hint: 'Close an edition once its pieces are made.',
  },
  'close.still-open': {
    exit: 3,
    message:
      '{n, plural, one {# number is} other {# numbers are}} {state, select, planned {never issued} issued {issued and not engraved} recut {recut and not engraved again} scrapped {scrapped and not destroyed} destroyed {destroyed and neither recut nor void} withheld {still withheld} lost {still lost} other {still stolen}}: {labels}.',
    hint: 'Finish {n, plural, one {it first} other {them first}}, or close the edition all the same with --leave-open. A closed edition is not opened again, and nothing is issued in it.',
  },
  'close.file-exists': {
    exit: 2,
    message: 'There is a file of this name already.',
    hint: 'Move it away, or name another with --out.',
  },
  'close.unsigned': {
    exit: 2,
    message: 'The statement is not signed: there is no key on this machine.',
    hint: 'Run `burin checkpoint` where the key is, and keep the checkpoint with the statement.',
  },
  'close.entered-meanwhile': {
    exit: 1,
    message:
      '{more, plural, one {# event was} other {# events were}} entered while the statement was written; it covers the first {size, plural, one {# event} other {# events}}.',
    hint: 'See `burin export` for what {more, plural, one {it is} other {they are}}.',
  },
  'audit.called-off': {
    exit: 2,
    message: 'The audit was interrupted.',
    hint: 'Nothing was changed. Ask again.',
  },
});
