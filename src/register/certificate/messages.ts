import { defineMessages } from '../../problem.js';

const ASK = 'Ask the maker; do not rely on this certificate.';
const SCAN_AGAIN = 'Read the codes again, each on a line of its own.';

/** What can be wrong with a certificate. A command that verifies one ends with exit code 1 for each. */
export const { table, problem, refuse } = defineMessages({
  'certificate.too-large': { exit: 1, message: 'It is too large for a certificate.', hint: ASK },
  'certificate.not-utf8': { exit: 1, message: 'It is not UTF-8 text.', hint: ASK },
  'certificate.not-json': {
    exit: 1,
    message: 'It is not JSON, or was cut short.',
    hint: 'Copy it again, whole.',
  },
  'certificate.version-unknown': {
    exit: 1,
    message: 'It has a version that this burin does not know.',
    hint: 'Use a newer burin.',
  },
  'certificate.field-wrong': {
    exit: 1,
    message: '{field} is missing, unknown, or not of the form that a certificate has.',
    hint: ASK,
  },
  'certificate.not-canonical': {
    exit: 1,
    message: 'It is not written as burin writes one: a name comes twice, or blanks or the order differ.',
    hint: 'Use the file as the maker gave it, not a copy saved by an editor.',
  },
  'certificate.key-unreadable': {
    exit: 1,
    message: '{reason}',
    hint: "Use the line that the maker gives as its register's public key, whole.",
  },
  'certificate.checkpoint-unreadable': {
    exit: 1,
    message: '{reason} So its checkpoint cannot be read.',
    hint: ASK,
  },
  'certificate.other-signer': {
    exit: 1,
    message: 'Its checkpoint is not signed with this key of {name}.',
    hint: ASK,
  },
  'certificate.key-retired': {
    exit: 1,
    message: '{reason}',
    hint: 'Ask the maker for a certificate of today; keep this one with proof of the day you got it.',
  },
  'certificate.checkpoint-signature': {
    exit: 1,
    message: 'The signature of its checkpoint does not match the text.',
    hint: ASK,
  },
  'certificate.other-log': {
    exit: 1,
    message: 'Its checkpoint is of the register {origin}, and the key is of {name}.',
    hint: ASK,
  },
  'certificate.not-included': {
    exit: 1,
    message: '{reason} So event {seq} is not proved to be in the checkpoint.',
    hint: ASK,
  },
  'certificate.signature-wrong': {
    exit: 1,
    message: "The maker's signature does not match what the certificate says.",
    hint: ASK,
  },
  'certificate.event-unreadable': {
    exit: 1,
    message:
      'Event {seq} {fault, select, json {is not JSON} canonical {is not canonical JSON} edition {is not about one number} other {is of a kind that this burin does not know}}.',
    hint: ASK,
  },
  'certificate.events-out-of-order': {
    exit: 1,
    message: 'Event {seq} does not come after the one before it.',
    hint: ASK,
  },
  'certificate.edition-differs': {
    exit: 1,
    message: 'The edition shown is not that of the events.',
    hint: ASK,
  },
  'certificate.series-differs': {
    exit: 1,
    message: 'The series shown is not that of the events.',
    hint: ASK,
  },
  'certificate.number-differs': {
    exit: 1,
    message: 'The number shown is not that of the events.',
    hint: ASK,
  },
  'certificate.label-differs': {
    exit: 1,
    message: 'The label shown is not that of the events.',
    hint: ASK,
  },
  'certificate.dates-differ': {
    exit: 1,
    message: 'The dates shown are not those of the events.',
    hint: ASK,
  },
  'certificate.owner-differs': {
    exit: 1,
    message: 'The owner shown is not that of the events.',
    hint: ASK,
  },
  'certificate.part-twice': { exit: 1, message: 'It shows a part twice.', hint: ASK },
  'certificate.part-missing': {
    exit: 1,
    message: 'It does not show the part {part}, which carries the number.',
    hint: ASK,
  },
  'certificate.history-impossible': {
    exit: 1,
    message: '{problems} So the events cannot have happened to one number.',
    hint: ASK,
  },
  'certificate.not-sound': {
    exit: 1,
    message:
      'By its events, {label} is {state}, but a certificate is only for a piece that is engraved and not scrapped.',
    hint: ASK,
  },
  // the text of codes
  'certificate.code-line': {
    exit: 1,
    message: 'A line is not the whole text of a code.',
    hint: SCAN_AGAIN,
  },
  'certificate.codes-mixed': {
    exit: 1,
    message: 'Its codes do not belong together.',
    hint: SCAN_AGAIN,
  },
  'certificate.code-twice': {
    exit: 1,
    message: 'Code {place} is there twice, and the two differ.',
    hint: SCAN_AGAIN,
  },
  'certificate.code-none': { exit: 1, message: 'The text has no code in it.', hint: SCAN_AGAIN },
  'certificate.code-missing': {
    exit: 1,
    message: 'Code {place} of {count} is missing.',
    hint: SCAN_AGAIN,
  },
  'certificate.code-characters': {
    exit: 1,
    message: 'The code holds characters that it cannot have.',
    hint: SCAN_AGAIN,
  },
  'certificate.code-damaged': {
    exit: 1,
    message: 'The code is damaged, or too large for a certificate.',
    hint: SCAN_AGAIN,
  },
  // pieces that get no certificate
  'certificate.label-moved': {
    exit: 2,
    message: 'The register has it as number {number} of series {series}.',
    hint: 'Give the edition its former series and numbers back.',
  },
  'certificate.not-issued': {
    exit: 3,
    message: 'It is only planned.',
    hint: 'Issue and engrave it first.',
  },
  'certificate.not-engraved': {
    exit: 3,
    message:
      '{state, select, recut {It is to be recut and is not engraved again} other {It is issued but not engraved}}.',
    hint: 'Record it engraved first.',
  },
  'certificate.withheld': { exit: 3, message: 'It is withheld.', hint: 'Record it released first.' },
  'certificate.amendment-wrong': {
    exit: 1,
    message: 'Event {seq} is not an amendment of this edition, or is in the wrong place.',
    hint: 'The certificate was altered; ask the maker for a new one.',
  },
  'certificate.withdrawn': {
    exit: 1,
    message:
      'The maker withdrew it, {reason, select, scrapped {because the piece was scrapped} other {because what it says was corrected}}; so says a list of withdrawals made at {size} events.',
    hint: 'Ask the maker what became of the piece.',
  },
  'certificate.withdrawals-unreadable': {
    exit: 2,
    message: '{reason} So it cannot be read as a list of withdrawals.',
    hint: 'Ask the maker for a new one, made with `burin withdrawals`.',
  },
  'certificate.withdrawals-form': {
    exit: 2,
    message: 'It is not a list of withdrawals: line {line} does not belong in one.',
    hint: 'Ask the maker for a new one, made with `burin withdrawals`.',
  },
  'certificate.split-view': {
    exit: 1,
    message: 'The list and the certificate are signed for two different registers of {size} events.',
    hint: 'Keep both and ask the maker: there is more than one history.',
  },
  'certificate.missing': {
    exit: 3,
    message: 'It is {state}.',
    hint: 'Once the piece is back, record it found first.',
  },
  'certificate.scrapped': {
    exit: 3,
    message: 'It is scrapped.',
    hint: 'A spoiled piece gets no certificate.',
  },
  'certificate.destroyed': {
    exit: 3,
    message: 'It is destroyed.',
    hint: 'A destroyed piece gets no certificate.',
  },
  'certificate.void': { exit: 3, message: 'It is void.', hint: 'A void number is on no piece.' },
  'certificate.not-delivered': {
    exit: 3,
    message: 'It is not delivered.',
    hint: 'Leave out --with-delivery.',
  },
  'certificate.file-there': {
    exit: 3,
    message: 'There is a file in the place of this certificate. No certificate is replaced.',
    hint: 'Name another folder with --out; nothing was written.',
  },
  'certificate.self-check-failed': {
    exit: 3,
    message: '{problems} So the certificate just made does not verify.',
    hint: 'Nothing was written; audit the register.',
  },
});
