import { defineMessages } from '../problem.js';
import { keyMessages } from './messages/keys.js';
import { lossMessages } from './messages/loss.js';

const CUT_AGAIN =
  'Nothing was put in place. Check whether another program writes there or the disk fails, then ask again.';

const OUT_OF_THE_WAY = 'Move it away, or name another folder with --out.';

export const { table, problem, refuse } = defineMessages({
  'app.out-is-a-file': {
    exit: 2,
    message: 'This is a file, but the output goes to a folder.',
    hint: 'Name a folder, or a name not yet taken.',
  },
  'app.out-holds-documents': {
    exit: 2,
    message: 'This folder holds the documents of a workshop, and output does not go among them.',
    hint: 'Name a folder for the output alone, such as out/nine-lights.',
  },
  'app.output-locked': {
    exit: 2,
    message:
      '{machine, select, this {Process {pid} is writing into this folder} other {Process {pid} on {host} is writing into this folder} unknown {Another burin is writing into this folder}}. Nothing was put there.',
    hint: 'Ask again when it is done. If that process no longer runs, delete {lock} first.',
  },
  'app.output-lock-lost': {
    exit: 2,
    message: 'Another burin took this folder over. Nothing was put there.',
    hint: 'Ask again when the other is done.',
  },
  'app.output-changed': {
    exit: 3,
    message: 'This file was changed since burin wrote it. Nothing was put in place.',
    hint: OUT_OF_THE_WAY,
  },
  'app.output-not-listed': {
    exit: 3,
    message: 'files.sha256 does not list this file as written by burin. Nothing was put in place.',
    hint: OUT_OF_THE_WAY,
  },
  'app.output-list-not-ours': {
    exit: 3,
    message: 'This is not a list as burin writes it. Nothing was put in place.',
    hint: OUT_OF_THE_WAY,
  },
  'app.cannot-keep': {
    exit: 2,
    message: 'This cannot be kept while the folder of its piece is replaced. Nothing was put in place.',
    hint: 'Move it away, then ask again.',
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
  'app.staged-file-changed': {
    exit: 3,
    message: 'Another program changed this file, or took it away, after it was proved.',
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
    message: 'It does not exist.',
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
  'app.not-a-file': {
    exit: 2,
    message: 'It is a pipe, a socket or a device.',
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
    message: 'The disk fails (error {error}).',
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
  'app.program-stale': {
    exit: 1,
    message:
      '{kind, select, labels {The labels of the edition have} other {The {kind} has}} changed since the program was written.',
    hint: 'Cut the piece again.',
  },
  'app.program-of-other-label': {
    exit: 1,
    message: 'The head says label {label}, but the program cuts {other}.',
    hint: 'Do not run it. Write the program again with `burin cut`.',
  },
  'app.cut-reads-otherwise': {
    exit: 1,
    message: 'What is cut reads "{reads}", and not "{wanted}".',
    hint: 'Do not run it. Look at what is cut with `burin readback --png`, and write the program again with `burin cut`.',
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
  'app.program-never-issued': {
    exit: 1,
    message: 'This is the program of {label}, a number that was never issued.',
    hint: 'Do not run it. Issue the number, then cut the piece with `burin cut`.',
  },
  'app.program-in-other-folder': {
    exit: 1,
    message: 'This is the program of {label}, but it lies in the folder of {other}.',
    hint: 'Do not run it. Move it to `{folder}`, and cut the piece of this folder again.',
  },
  'app.program-under-other-name': {
    exit: 1,
    message:
      'This is the program for surface {surface} of {part} with cutter {cutter}, but it has the name of another.',
    hint: 'Do not run it. Rename it to `{name}`, and cut the piece again where the other is lost.',
  },
  'app.program-given-twice': {
    exit: 1,
    message: 'This is the program of {label} once more, after {other}.',
    hint: 'Run one of them, and once: a second cut changes an edge.',
  },
  'app.program-of-other-setup': {
    exit: 1,
    message: 'The set-up is given as `{found}`. The set-up of that station is `{want}`.',
    hint: 'Do not run it. Cut the piece again.',
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
  'record.list-wrong': {
    exit: 2,
    message:
      '{wrong} of {rows, plural, one {# row} other {# rows}} cannot be entered, so nothing was entered.',
    hint: 'Mend these, then give the list again.',
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
  'correct.meant-itself': {
    exit: 3,
    message: 'This is the number itself: nothing would change. Nothing was entered.',
    hint: 'Name with --meant the other number, or mend its buyer or day with `burin correct`.',
  },
  'correct.nothing-stands': {
    exit: 3,
    message:
      'The number has {event, select, delivered {no delivery that could be corrected} corrected {no event that could be corrected} other {no event that could be retracted}}.',
    hint: '`burin register {edition} "{label}"` lists its events.',
  },
  'resume.one-thing': {
    exit: 2,
    message: 'The register goes on past one thing at a time: an entry, or a kept checkpoint.',
    hint: 'Give the place of an entry, as `burin audit` names it, or --checkpoint and its size.',
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
  'close.closed-before': {
    exit: 3,
    message: 'The edition is closed already.',
    hint: 'Nothing is left to do. `burin close EDITION --rewrite` writes its statement again.',
  },
  'close.not-closed': {
    exit: 2,
    message: 'The edition is not closed, so there is no statement of it.',
    hint: 'Close it with `burin close`.',
  },
  'close.history-unreadable': {
    exit: 3,
    message:
      'Events of edition {edition} before its closing cannot be read, so its statement cannot be made again.',
    hint: 'Issue nothing; run `burin audit`, which names them.',
  },
  'close.not-by': {
    exit: 2,
    message: 'It is not said who closes the edition.',
    hint: 'Name the person: --by WHO.',
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
  'export.would-lose': {
    exit: 3,
    message:
      'The file is an export of {what, select, other {another register or edition} more {more than the register has now}}. It is kept.',
    hint: '{what, select, more {Find out what the register lost: `burin restore` with this file and --dry-run shows it} other {Name another file}}.',
  },
  'close.out-is-there': {
    exit: 3,
    message:
      'There is a file or a folder of this name; a statement is two files, whose names end in .txt and .json.',
    hint: 'Give --out a name that is free, without an ending. Nothing was closed.',
  },
  'close.file-exists': {
    exit: 2,
    message: 'There is a file of this name already.',
    hint: 'Move it away, or name another with --out.',
  },
  'close.passed-over': {
    exit: 1,
    message:
      '{fault, select, time {Its time is not believed} other {It is passed over}}, since event {seq}. Entered by {by}, confirmed by {witness}: {why}.',
    hint: '',
  },
  'close.unsigned': {
    exit: 2,
    message: 'The statement is not signed: there is no key on this machine.',
    hint: 'Run `burin checkpoint` where the key is, and keep the checkpoint with the statement.',
  },
  'close.finished': {
    exit: 1,
    message:
      'It was closed by {by} on {on}, but that command ended before the statement was written. It is written now.',
    hint: 'Run `burin checkpoint` to sign the closing.',
  },
  'close.not-placed': {
    exit: 3,
    message: 'The edition is closed, but its statement could not be put in its place.',
    hint: 'Mend what is said above, and run `burin close` again: it finishes what is left.',
  },
  'resume.statement-here': {
    exit: 3,
    message: 'It is the statement that the edition was closed with, so the closing is right.',
    hint: 'A closed edition stays closed.',
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
  ...lossMessages,
  ...keyMessages,
});
