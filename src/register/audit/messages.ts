import { defineMessages } from '../../problem.js';

const COMPARE = 'Issue nothing; compare the register with your last good copy.';
const KEEP_TERMS = 'The register is right; restore the document to what was issued, or explain the change.';
const CHECK_NAME = 'Find out whether one person or two are meant; a witness must be a second person.';

/** What an audit can find. `docs/audit.md` explains each code and what to do. */
export const { table, problem, refuse } = defineMessages({
  'audit.unreadable-from': {
    exit: 1,
    message: 'The register cannot be read from event {seq} on.',
    hint: 'See the finding before it.',
  },
  'audit.documents-not-read': {
    exit: 1,
    message:
      '{fault} ({place}{more, plural, =0 { } one { and # more} other { and # more}}) The register was not compared with documents; gaps were looked for by its own terms.',
    hint: 'Mend the documents, then audit again to compare them.',
  },
  'audit.gap-in-sequence': {
    exit: 1,
    message:
      '{missing, plural, one {Event {first} is} other {Events {first} to {last} are}} missing before it.',
    hint: COMPARE,
  },
  'audit.text-and-hash-differ': {
    exit: 1,
    message: 'Its text does not match its hash: one of them was altered.',
    hint: COMPARE,
  },
  'audit.not-an-event': { exit: 1, message: '{reason}', hint: COMPARE },
  'audit.passed-over': {
    exit: 1,
    message:
      '{stands, select, yes {Times begin anew here, after event {entry}, which stays valid} other {Event {entry} is passed over from here on}}: {reason} Entered by {by}, confirmed by {witness}: {why}.',
    hint: 'See that this is known and right; `docs/resume.md` says what follows from it.',
  },
  'audit.entry-ahead': {
    exit: 1,
    message:
      'It was entered at {at}, more than a day ahead of the clock, {clock}: nothing can be entered after it.',
    hint: 'Set the clock if it is wrong. If it is right, go on past the entry with `burin resume`.',
  },
  'audit.time-ahead': {
    exit: 1,
    message: 'It was entered with the time {at}, ahead of the clock that said {until}.',
    hint: 'See the event that says so.',
  },
  'audit.other-edition': {
    exit: 1,
    message: 'It is of edition {edition}, which this audit does not look at.',
    hint: 'Audit without naming an edition.',
  },
  'audit.resumed-other': {
    exit: 1,
    message:
      'It passes over event {entry}, but that is not the event that it names, is missing, or was sound. It changes nothing.',
    hint: 'burin never enters this. Find out who did; then pass this one over with `burin resume`.',
  },
  'audit.resumed-needlessly': {
    exit: 1,
    message: 'It passes over event {entry}, which has no fault.',
    hint: 'burin never enters this. Find out who did, and what event {entry} says; then pass this one over with `burin resume`.',
  },
  'audit.checkpoint-passed-over': {
    exit: 1,
    message: 'It is passed over, by event {seq}. Entered by {by}, confirmed by {witness}: {why}.',
    hint: 'See that this is known and right; `docs/resume.md` says what follows from it.',
  },
  'audit.checkpoint-resumed-needlessly': {
    exit: 1,
    message:
      'It is passed over by event {seq}, but {signed, select, yes {a key of the maker signed it} other {it has no fault}}.',
    hint: 'burin never enters this. Issue nothing; compare the register with your last good copy.',
  },
  'audit.time-runs-back': {
    exit: 1,
    message: 'It was entered at {at}, earlier than the event before it ({before}).',
    hint: COMPARE,
  },
  'audit.request-twice': {
    exit: 1,
    message: 'The request "{key}" was carried out before, in event {before}.',
    hint: COMPARE,
  },
  'audit.request-count': {
    exit: 1,
    message: 'It is event {nth} of the request "{key}"; event {expected} of it was expected here.',
    hint: COMPARE,
  },
  'audit.rule-broken': {
    exit: 1,
    message: '{rule} This breaks a rule of the register ({place}).',
    hint: COMPARE,
  },
  'audit.closed-twice': { exit: 1, message: 'Edition {edition} was closed before.', hint: COMPARE },
  'audit.statement-differs': {
    exit: 1,
    message: 'It closes edition {edition} with a statement that does not agree with the events before it.',
    hint: 'burin never enters this. Find out who did; `burin resume` goes on past it, and the edition can be closed again.',
  },
  'audit.statement-unknown': {
    exit: 1,
    message:
      'Whether the statement of edition {edition} agrees with the register cannot be known: {because, select, older {its closing is of an older burin, and has only the hash of it} other {an entry before the closing was passed over after it}}.',
    hint: 'Keep the file of the statement. If there never was one, `burin resume` goes on past the closing.',
  },
  'audit.number-relabelled': {
    exit: 1,
    message:
      'Number {number} of series {series} has the label {label} here, and another one in event {first}.',
    hint: COMPARE,
  },
  'audit.label-clash': {
    exit: 1,
    message:
      'Label {label} belongs to number {bearerNumber} of series {bearerSeries}, not to number {number} of series {series}.',
    hint: COMPARE,
  },
  'audit.checkpoint-unreadable': {
    exit: 1,
    message: '{reason}',
    hint: 'Find another copy of it. Never repair one by hand.',
  },
  'audit.checkpoint-size': {
    exit: 1,
    message: 'The note is for {size, plural, one {# event} other {# events}}.',
    hint: 'Find another copy of it. Never repair one by hand.',
  },
  'audit.signature-wrong': {
    exit: 1,
    message: '{reason}',
    hint: "If the key is the maker's own, the checkpoint is not. Ask who gave it.",
  },
  'audit.cosignature-wrong': {
    exit: 1,
    message: '{reason}',
    hint: 'Take another copy, from the witness.',
  },
  'audit.key-retired': {
    exit: 1,
    message: '{reason}',
    hint: 'Sign again with the key in use (`burin checkpoint`), and find out who signed this.',
  },
  'audit.other-log': {
    exit: 1,
    message: 'It is a checkpoint of the log {origin}, and the key is for {key}.',
    hint: "If the key is the maker's own, the checkpoint is not. Ask who gave it.",
  },
  'audit.hashes-altered': {
    exit: 1,
    message:
      'It agrees with the texts of the events, but not with the hashes beside them: hashes were altered.',
    hint: 'The texts are as signed; restore the hashes from a good copy.',
  },
  'audit.frontier-differs': {
    exit: 1,
    message: 'The subtrees stored with it are not those of the log.',
    hint: 'Sign nothing, and restore a good copy.',
  },
  'audit.log-shorter': {
    exit: 1,
    message:
      'It was signed for {signed, plural, one {# event} other {# events}}, and the register has {size}: the last {missing, plural, one {# event was} other {# events were}} deleted, or this is an old copy.',
    hint: 'Issue nothing; restore the register that has them.',
  },
  'audit.root-differs': {
    exit: 1,
    message:
      '{size, plural, one {The first event is not the one} other {The first # events are not those}} it was signed for: among events {from} to {to} something was altered, deleted, reordered, inserted or backdated since.',
    hint: 'Issue nothing; compare those events with your last good copy.',
  },
  'audit.root-differs-too': {
    exit: 1,
    message:
      'It does not agree with the register either, for the first {size, plural, one {# event} other {# events}}.',
    hint: 'See the checkpoint before it.',
  },
  'audit.two-histories': {
    exit: 1,
    message:
      'A key of the maker signed it for other events than the register has, but a later checkpoint, of {largest, plural, one {# event} other {# events}}, agrees with the register: two histories were signed.',
    hint: 'Issue nothing, and keep both. `docs/log.md` (Recovery: the audit finds a fork) says what to do.',
  },
  'audit.other-history': {
    exit: 1,
    message:
      'It belongs to another history: a later checkpoint, of {largest, plural, one {# event} other {# events}}, agrees with the register.',
    hint: 'The checkpoint was altered, or signed for another log. Ask who gave it.',
  },
  'audit.number-missing': {
    exit: 1,
    message:
      '{n, plural, one {Number {numbers} was} other {Numbers {numbers} were}} never issued, and nothing says why.',
    hint: 'Issue them next, or record them void with the reason.',
  },
  'audit.terms-differ': {
    exit: 1,
    message: 'Of the terms, {what} is {now} in the documents, and {before} in the register.',
    hint: 'Put the documents back, or enter the change with `burin amend` if it is meant.',
  },
  'audit.terms-twice': {
    exit: 1,
    message: 'Edition {edition} has terms already.',
    hint: 'burin never enters them twice. Compare the register with a checkpoint kept elsewhere.',
  },
  'audit.terms-missing': {
    exit: 1,
    message: 'Edition {edition} has no terms that could be amended.',
    hint: 'burin never amends terms that are not there. Compare the register with a checkpoint kept elsewhere.',
  },
  'audit.name-twice': {
    exit: 1,
    message: 'Edition {edition} has the name {name}, which is that of edition {holder}.',
    hint: 'Two editions of one name would give the same number twice. Find out which of them is wrong; `burin resume` goes on past the entry that gave the name (docs/resume.md).',
  },
  'audit.name-reads-alike': {
    exit: 1,
    message: 'The name "{name}" of edition {edition} can be read as "{taken}", which is edition {holder}.',
    hint: 'If it is an edition of its own, tell buyers of both. If nobody meant to open it, go on past it: `burin resume {entry}` (docs/resume.md).',
  },
  'audit.name-not-free': {
    exit: 1,
    message: 'Its name "{name}" can be read as "{taken}", by which the register knows edition {holder}.',
    hint: 'Give it a name that nobody takes for another before its first number is issued.',
  },
  'audit.name-taken': {
    exit: 1,
    message: 'It has the name {name}, by which the register knows edition {holder}.',
    hint: 'Rename the document back, or give an edition of its own a name of its own.',
  },
  'audit.not-on-terms': {
    exit: 1,
    message:
      'These numbers are not in the terms, or have another label there: {numbers}{more, plural, =0 {} one { and # more} other { and # more}}.',
    hint: KEEP_TERMS,
  },
  'audit.not-planned': {
    exit: 1,
    message:
      '{n, plural, one {Number {numbers} is} other {Numbers {numbers} are}} in the register, but not planned by the document.',
    hint: KEEP_TERMS,
  },
  'audit.excluded': {
    exit: 1,
    message:
      '{n, plural, one {Number {numbers} is} other {Numbers {numbers} are}} in the register, but the document excludes {n, plural, one {that number} other {those numbers}}: {reasons}.',
    hint: KEEP_TERMS,
  },
  'audit.series-not-planned': {
    exit: 1,
    message:
      'The document has no such series; {n, plural, one {# of its numbers is} other {# of its numbers are}} in the register.',
    hint: KEEP_TERMS,
  },
  'audit.label-changed': {
    exit: 1,
    message:
      'The document gives other labels than the register: {changes}{more, plural, =0 {} one { and # more} other { and # more}}.',
    hint: KEEP_TERMS,
  },
  'audit.no-document': {
    exit: 1,
    message: 'The workshop has no document of this edition, so its gaps and labels cannot be checked.',
    hint: 'Restore the document.',
  },
  'audit.terms-used': {
    exit: 1,
    message:
      'The workshop has no document of this edition; gaps were looked for by the terms in the register.',
    hint: 'Restore the document.',
  },
  'audit.names-not-compared': {
    exit: 1,
    message: 'There are more than {most} names; those from this event on were not compared.',
    hint: 'Compare them by hand.',
  },
  'audit.name-invisible': {
    exit: 1,
    message: 'The name "{name}" holds invisible characters ({characters}).',
    hint: CHECK_NAME,
  },
  'audit.name-mixed-scripts': {
    exit: 1,
    message: 'The name "{name}" mixes Latin and {script} letters in one word ({character}).',
    hint: CHECK_NAME,
  },
  'audit.name-alike': {
    exit: 1,
    message: 'The name "{name}" reads like "{other}" but differs from it in {differences}.',
    hint: CHECK_NAME,
  },
  'audit.too-many': {
    exit: 1,
    message: '{n, plural, one {# further finding is} other {# further findings are}} not listed.',
    hint: 'Deal with those listed, then audit again.',
  },
});
