import { defineMessages } from '../../problem.js';
import { gateMessages } from './messages/gate.js';
import { historyMessages } from './messages/history.js';
import { keyMessages } from './messages/keys.js';
import { witnessMessages } from './messages/witness.js';

const COMPARE = 'Sign nothing and issue nothing; compare the register with your last good copy.';
const GO_PAST = `${COMPARE} Where there is no better one, \`burin resume\` goes on past it.`;
const OF_STRANGER = `${COMPARE} \`burin resume --checkpoint\` passes over a kept checkpoint that no key of the maker signed.`;
const COPY_AGAIN = 'Copy it again, whole.';

export const { table, problem, refuse } = defineMessages({
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
  'log.frontier-differs': {
    exit: 3,
    message: 'The subtrees stored with it are not those of the log.',
    hint: COMPARE,
  },
  'log.subtrees-do-not-fit': {
    exit: 3,
    message: 'The subtrees stored with its checkpoint do not match its size.',
    hint: COMPARE,
  },
  'log.shorter-than-signed': {
    exit: 3,
    message:
      'It was signed for {signed, plural, one {# event} other {# events}}, but the register has {size}: it is an old copy, or events were deleted.',
    hint: OF_STRANGER,
  },
  'log.nothing-to-sign': {
    exit: 2,
    message: 'Nothing was entered in the register yet, so there is nothing to sign.',
    hint: 'Issue numbers first.',
  },
  'log.event-missing': { exit: 3, message: 'The event is missing.', hint: COMPARE },
  'log.event-altered': { exit: 3, message: 'The text of the event does not match its hash.', hint: GO_PAST },
  'log.other-events': {
    exit: 3,
    message:
      '{size, plural, one {The first event is not the one} other {The first # events are not those}} it was signed for.',
    hint: OF_STRANGER,
  },
  'log.checkpoint-other-size': {
    exit: 3,
    message: 'The note is for {size, plural, one {# event} other {# events}}.',
    hint: GO_PAST,
  },
  'log.kept-note-wrong': { exit: 3, message: '{reason}', hint: GO_PAST },
  // proving events
  'log.event-after-checkpoint': {
    exit: 3,
    message: 'It was entered after the checkpoint of {size, plural, one {# event} other {# events}}.',
    hint: 'Make a new checkpoint with `burin checkpoint`.',
  },
  ...keyMessages,
  ...historyMessages,
  ...witnessMessages,
  ...gateMessages,
});
