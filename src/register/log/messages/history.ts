const COPY_AGAIN = 'Copy it again, whole.';
const GET_HISTORY =
  'Get the history again, from where the maker publishes it: lines were altered or reordered.';

/** A history of keys. */
export const historyMessages = {
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
} as const;
