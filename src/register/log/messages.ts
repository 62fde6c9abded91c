import { defineMessages } from '../../problem.js';

const COMPARE = 'Sign nothing and issue nothing; compare the register with your last good copy.';
const PUT_BACK =
  'Enter and cut nothing. Put the newest register back; if it is lost, `burin restore` goes on without it (docs/gate.md).';
const COPY_AGAIN = 'Copy it again, whole.';
const KEEP_BOTH = 'Cosign nothing. Keep both files, and ask the maker: together they are proof.';
const GET_HISTORY =
  'Get the history again, from where the maker publishes it: lines were altered or reordered.';

export const { table, problem, refuse } = defineMessages({
  // public keys (C2SP signed-note)
  'log.key-not-readable': {
    exit: 2,
    message: 'It is not the public key of a log.',
    hint: "Give the maker's public key as `burin key show` prints it.",
  },
  'log.key-not-ed25519': {
    exit: 2,
    message: 'It is not an Ed25519 key.',
    hint: "Give the maker's public key as `burin key show` prints it.",
  },
  'log.key-wrong-length': {
    exit: 2,
    message: 'Its length is not that of an Ed25519 key.',
    hint: "Give the maker's public key as `burin key show` prints it.",
  },
  'log.key-hash-differs': {
    exit: 2,
    message: 'Its hash does not match its name and key: it was copied wrongly or altered.',
    hint: "Give the maker's public key as `burin key show` prints it.",
  },
  // signed notes (C2SP signed-note)
  'log.note-characters': {
    exit: 3,
    message: 'It holds characters that a signed note cannot have.',
    hint: COPY_AGAIN,
  },
  'log.note-no-blank-line': {
    exit: 3,
    message: 'There is no empty line before its signatures.',
    hint: COPY_AGAIN,
  },
  'log.note-empty': { exit: 3, message: 'It has no text.', hint: COPY_AGAIN },
  'log.note-cut-short': {
    exit: 3,
    message: 'Its last line has no line end: it was cut short.',
    hint: COPY_AGAIN,
  },
  'log.note-unsigned': { exit: 3, message: 'It has no signature.', hint: COPY_AGAIN },
  'log.note-too-many-signatures': {
    exit: 3,
    message: 'It has {n} signatures; at most {most} are read.',
    hint: COPY_AGAIN,
  },
  'log.note-signature-unreadable': {
    exit: 3,
    message: 'A line after its text is not a signature.',
    hint: COPY_AGAIN,
  },
  'log.other-signer': {
    exit: 3,
    message: 'It is not signed with this key of {name}.',
    hint: 'Take the public key of the maker who signed it.',
  },
  'log.signature-wrong': {
    exit: 3,
    message: 'Its signature does not match its text.',
    hint: 'Take another copy: this one was altered after it was signed.',
  },
  // histories of keys
  'log.key-ended': {
    exit: 3,
    message:
      'The key that signed it counts up to {last, plural, one {# event} other {# events}}{reason, select, lost { (it was lost)} stolen { (it was stolen)} other { (it was replaced)}}, and this is for {size}.',
    hint: 'Its signature is worth nothing here: rely only on a date by which someone else held it, and ask the maker.',
  },
  'log.key-not-begun': {
    exit: 3,
    message:
      'The key that signed it begins at {first, plural, one {# event} other {# events}}, and this is for {size}.',
    hint: 'Ask the maker; no honest use of the key makes such a note.',
  },
  'log.history-empty': { exit: 2, message: 'The history has no key.', hint: COPY_AGAIN },
  'log.history-line': {
    exit: 2,
    message: '{reason} So line {line} of the history cannot be read.',
    hint: COPY_AGAIN,
  },
  'log.history-form': {
    exit: 2,
    message: 'It is not a public key, a size, and a second size with planned, lost or stolen, or open.',
    hint: COPY_AGAIN,
  },
  'log.history-other-log': {
    exit: 2,
    message: 'Line {line} of the history has a key of {name}, and the history is of {origin}.',
    hint: GET_HISTORY,
  },
  'log.history-key-twice': {
    exit: 2,
    message: 'Line {line} of the history has a key that an earlier line has.',
    hint: GET_HISTORY,
  },
  'log.history-open-before': {
    exit: 2,
    message: 'Line {line} of the history has a key in use, and another line follows.',
    hint: GET_HISTORY,
  },
  'log.history-sizes': {
    exit: 2,
    message:
      'In line {line} of the history the key does not begin where the one before ended, or ends before that.',
    hint: GET_HISTORY,
  },
  'log.history-handover': {
    exit: 2,
    message: 'The key of line {line} of the history did not sign the handover to the next one.',
    hint: GET_HISTORY,
  },
  'log.history-handover-extra': {
    exit: 2,
    message: 'The history has a handover that belongs to none of its keys.',
    hint: GET_HISTORY,
  },
  'log.history-unreadable': {
    exit: 3,
    message: '{reason} So it cannot be read as the history of keys.',
    hint: 'Put back the copy that was published.',
  },
  'log.history-of-other-log': {
    exit: 3,
    message: 'It is the history of keys of {origin}, and the log is {name}.',
    hint: 'Put back the copy that was published.',
  },
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
      'It continues a log of {old, plural, one {# event} other {# events}}, and nothing of this log was cosigned here.',
    hint: 'If you cosigned it before, put your folder back. Otherwise ask for a first request, without a note.',
  },
  'witness.shorter': {
    exit: 3,
    message:
      'It is for {size, plural, one {# event} other {# events}}, and you cosigned {seen} before: the log was set back, or this is an older file.',
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
    exit: 2,
    message: 'The clock of this machine is behind the time of what you cosigned last.',
    hint: 'Set the clock, then ask again.',
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
  // checkpoints (C2SP tlog-checkpoint)
  'log.checkpoint-lines-missing': {
    exit: 3,
    message: 'It does not have an origin, a size and a root, each on a line.',
    hint: COPY_AGAIN,
  },
  'log.checkpoint-origin': {
    exit: 3,
    message: 'Its origin cannot be the name of a log.',
    hint: COPY_AGAIN,
  },
  'log.checkpoint-size': {
    exit: 3,
    message: 'Its size is not a decimal number that a log can have.',
    hint: COPY_AGAIN,
  },
  'log.checkpoint-root': {
    exit: 3,
    message: 'Its root is not a hash of 32 bytes in base64.',
    hint: COPY_AGAIN,
  },
  'log.checkpoint-blank-line': { exit: 3, message: 'It has an empty line.', hint: COPY_AGAIN },
  'log.checkpoint-other-log': {
    exit: 3,
    message: 'It is a checkpoint of the log {origin}, and the key is for {name}.',
    hint: 'Take the public key of the log that it is from.',
  },
  // proofs (RFC 9162, 2.1.3 and 2.1.4)
  'log.proof-not-whole': {
    exit: 3,
    message: 'A size or an event number is not a whole number.',
    hint: COPY_AGAIN,
  },
  'log.proof-of-empty-log': {
    exit: 3,
    message: 'Nothing can be proved about an empty log.',
    hint: COPY_AGAIN,
  },
  'log.proof-place-past-end': {
    exit: 3,
    message: 'Event {index} is not among the first {size, plural, one {# event} other {# events}}.',
    hint: COPY_AGAIN,
  },
  'log.proof-sizes-descend': {
    exit: 3,
    message:
      'A log of {first, plural, one {# event} other {# events}} cannot be the beginning of one of {second}.',
    hint: COPY_AGAIN,
  },
  'log.proof-hash-length': {
    exit: 3,
    message:
      '{part, select, root {A root} leaf {The leaf} other {A hash of the proof}} does not have 32 bytes.',
    hint: COPY_AGAIN,
  },
  'log.proof-too-long': { exit: 3, message: 'The proof is too long.', hint: COPY_AGAIN },
  'log.proof-too-short': { exit: 3, message: 'The proof is too short.', hint: COPY_AGAIN },
  'log.proof-root-differs': {
    exit: 3,
    message:
      'The proof does not lead to the root{of, select, first { of the first log} second { of the second log} other {}}.',
    hint: COPY_AGAIN,
  },
  'log.roots-differ': {
    exit: 3,
    message: 'Two logs of the same size have different roots.',
    hint: COMPARE,
  },
  // making checkpoints
  'log.subtrees-do-not-fit': {
    exit: 3,
    message: 'The subtrees stored with its checkpoint do not match its size.',
    hint: COMPARE,
  },
  'log.shorter-than-signed': {
    exit: 3,
    message:
      'It was signed for {signed, plural, one {# event} other {# events}}, and the register has {size}: it is an old copy, or events were deleted.',
    hint: COMPARE,
  },
  'log.register-empty': {
    exit: 3,
    message:
      'This register is empty, but the key of this name signed {signed, plural, one {# event} other {# events}} on this machine.',
    hint: 'For a new workshop, give it a name of its own in workshop.yaml. If its register is lost, enter and cut nothing: see docs/log.md, Recovery.',
  },
  'log.register-behind': {
    exit: 3,
    message:
      'This register has {size, plural, one {# event} other {# events}}, but its key signed {signed, plural, one {# event} other {# events}} on this machine: it is an old copy or another register.',
    hint: 'Enter and cut nothing. Put the newest register back; docs/log.md, Recovery, says what to do if it is lost.',
  },
  'log.register-other': {
    exit: 3,
    message:
      'The first {signed, plural, one {event is not the one} other {# events are not those}} that the key of this log signed on this machine: it is another register, or it was altered.',
    hint: 'Enter and cut nothing. Put the right register back; docs/log.md, Recovery, says what to do if it is lost.',
  },
  // what this machine saw
  'log.seen-empty': {
    exit: 3,
    message:
      'This register is empty or missing, but this machine saw {seen, plural, one {# event} other {# events}} of this workshop in {place}.',
    hint: `${PUT_BACK} For a new workshop, take a new folder without workshop.id, and give it a name of its own in workshop.yaml.`,
  },
  'log.seen-shorter': {
    exit: 3,
    message:
      'This register has {size, plural, one {# event} other {# events}}, but this machine saw {seen} of this workshop in {place}: it is an old copy, or events were deleted.',
    hint: PUT_BACK,
  },
  'log.seen-other': {
    exit: 3,
    message:
      'This is not the register of which this machine saw {seen, plural, one {# event} other {# events}} in {place}: it is another one, or an old copy that was used since.',
    hint: PUT_BACK,
  },
  'log.proved-missing': {
    exit: 3,
    message:
      'This register has {size, plural, one {# event} other {# events}}, but papers given to `burin restore` prove {proved}.',
    hint: PUT_BACK,
  },
  'log.seen-unreadable': {
    exit: 3,
    message: 'It should hold what this machine last saw of a register, and cannot be read.',
    hint: 'Run `burin audit`; where the register is whole, delete this file.',
  },
  'log.nothing-to-sign': {
    exit: 2,
    message: 'The register has no events to sign.',
    hint: 'Issue numbers first.',
  },
  'log.event-missing': { exit: 3, message: 'The event is missing.', hint: COMPARE },
  'log.event-altered': { exit: 3, message: 'The text of the event does not match its hash.', hint: COMPARE },
  'log.other-events': {
    exit: 3,
    message:
      '{size, plural, one {The first event is not the one} other {The first # events are not those}} it was signed for.',
    hint: COMPARE,
  },
  'log.checkpoint-other-size': {
    exit: 3,
    message: 'The note is for {size, plural, one {# event} other {# events}}.',
    hint: COMPARE,
  },
  'log.kept-note-wrong': { exit: 3, message: '{reason}', hint: COMPARE },
  // proving events
  'log.event-after-checkpoint': {
    exit: 3,
    message: 'It was entered after the checkpoint of {size, plural, one {# event} other {# events}}.',
    hint: 'Make a new checkpoint with `burin checkpoint`.',
  },
  // keys
  'log.name-not-of-burin': {
    exit: 2,
    message: 'burin makes no keys for a log of this name.',
    hint: 'Sign it with the program that signed it before.',
  },
  'log.keys-in-workshop': {
    exit: 2,
    message: 'The folder of keys is inside the workshop, which others can copy and read.',
    hint: 'Set BURIN_KEYS to a folder elsewhere.',
  },
  'log.key-exists': {
    exit: 3,
    message: 'There is a key of {origin} already.',
    hint: 'Use it, or retire it first with `burin key retire`.',
  },
  'log.private-key-unreadable': {
    exit: 3,
    message: 'It holds no private key that can be read.',
    hint: 'Restore it from your copy of the key.',
  },
  'log.private-key-not-ed25519': {
    exit: 3,
    message: 'It holds no Ed25519 key.',
    hint: 'Restore it from your copy of the key.',
  },
  'log.key-open-to-others': {
    exit: 3,
    message: 'Other users of this machine can read or change the key.',
    hint: 'Run `chmod {mode}` on it. If someone may have read it, make a new key.',
  },
  'log.last-signed-wrong': {
    exit: 3,
    message: '{reason} The file should hold the last checkpoint that this key signed.',
    hint: 'If the key is new, retire the old one with `burin key retire`, or move this file to where the old key is. Otherwise audit the register first.',
  },
});
