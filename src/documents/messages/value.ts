/** A value that its schema does not take: one code for each kind of issue that zod reports, and each rule of ours. */
export const valueMessages = {
  'documents.kind-missing': {
    exit: 2,
    message: '`kind` is missing.',
    hint: 'Begin with `kind: {kind}`.',
  },
  'documents.kind-elsewhere': {
    exit: 2,
    message: 'The kind of this document is `{given}`, but {home} is for the kind `{kind}`.',
    hint: 'Move it to {right}, or write `kind: {kind}`.',
  },
  'documents.kind-unknown': {
    exit: 2,
    message: '{value} is not a kind of document.',
    hint: 'Write `kind: {kind}`. The kinds are {kinds}.',
  },
  'documents.kind-close': {
    exit: 2,
    message: '{value} is not a kind of document.',
    hint: 'Did you mean `{close}`?',
  },
  'documents.version-missing': {
    exit: 2,
    message: '`version` is missing.',
    hint: 'Add `version: 1`.',
  },
  'documents.version-unknown': {
    exit: 2,
    message: 'This burin reads version 1 of the kind `{kind}`, not version {value}.',
    hint: 'Write `version: 1`, or use a newer burin.',
  },
  'documents.key-close': {
    exit: 2,
    message: '`{key}` is not a key of {noun}.',
    hint: 'Did you mean `{close}`?',
  },
  'documents.key-unknown': {
    exit: 2,
    message: '`{key}` is not a key of {noun}.',
    hint: 'Remove it, or use one of these: {known}.',
  },
  'documents.key-missing': {
    exit: 2,
    message: '`{key}` is missing.',
    hint: 'Add `{key}:` with {expected}.',
  },
  'documents.not-whole': {
    exit: 2,
    message: '{value} is not a whole number.',
    hint: 'Give a whole number.',
  },
  'documents.not-finite': {
    exit: 2,
    message: '{value} is not a finite number.',
    hint: 'Give {expected}.',
  },
  'documents.no-value': {
    exit: 2,
    message: 'There is no value here.',
    hint: 'Give {expected}.',
  },
  'documents.number-for-text': {
    exit: 2,
    message: 'This must be text, but {value} is a number.',
    hint: 'Put it in quotes: `"{value}"`.',
  },
  'documents.other-form': {
    exit: 2,
    message: 'This must be {expected}, but it is {found}.',
    hint: 'Give {expected}.',
  },
  'documents.yes-no-for-text': {
    exit: 2,
    message: 'This must be text, but {value} means yes or no in YAML.',
    hint: 'Put it in quotes: `"{value}"`.',
  },
  'documents.text-close': {
    exit: 2,
    message: 'This must be {expected}, but it is the text {value}.',
    hint: 'Did you mean `{close}`?',
  },
  'documents.number-has-unit': {
    exit: 2,
    message: 'This must be {expected}, but it is the text {value}.',
    hint: 'Leave the unit out; lengths are in mm and angles in degrees: `{meant}`.',
  },
  'documents.number-has-comma': {
    exit: 2,
    message: 'This must be {expected}, but it is the text {value}.',
    hint: 'Write the decimal with a point: `{meant}`.',
  },
  'documents.number-in-quotes': {
    exit: 2,
    message: 'This must be {expected}, but it is the text {value}.',
    hint: 'Remove the quotes: `{meant}`.',
  },
  'documents.not-a-choice': {
    exit: 2,
    message: '{value} is not one of the choices.',
    hint: 'Write {choices}.',
  },
  'documents.choice-close': {
    exit: 2,
    message: '{value} is not one of the choices.',
    hint: 'Did you mean `{close}`? The choices are {choices}.',
  },
  'documents.too-large': {
    exit: 2,
    message: '{value} is too large.',
    hint: 'Give {most} at most.',
  },
  'documents.too-small': {
    exit: 2,
    message: '{value} is too small.',
    hint: 'Give {least} at least.',
  },
  'documents.not-more-than': {
    exit: 2,
    message: '{value} is too small.',
    hint: 'Give more than {least}.',
  },
  'documents.not-less-than': {
    exit: 2,
    message: '{value} is too large.',
    hint: 'Give less than {most}.',
  },
  'documents.text-too-long': {
    exit: 2,
    message: 'The text has more than {most, plural, one {# character} other {# characters}}.',
    hint: 'Shorten it.',
  },
  'documents.text-empty': {
    exit: 2,
    message: 'The text is empty.',
    hint: 'Give it at least one character.',
  },
  'documents.list-too-long': {
    exit: 2,
    message: 'This list has more than {most, plural, one {# entry} other {# entries}}.',
    hint: 'Shorten it.',
  },
  'documents.list-too-short': {
    exit: 2,
    message: 'This list has fewer than {least, plural, one {# entry} other {# entries}}.',
    hint: 'Add entries.',
  },
  'documents.not-a-pair': {
    exit: 2,
    message: 'This list is not a pair.',
    hint: 'Give {expected}.',
  },
  'documents.not-an-id': {
    exit: 2,
    message: '{value} is not an id. An id is at most 63 lower-case letters, digits and hyphens.',
    hint: 'Choose another id.',
  },
  'documents.id-close': {
    exit: 2,
    message: '{value} is not an id. An id is at most 63 lower-case letters, digits and hyphens.',
    hint: 'Write it as `{close}`.',
  },
  'documents.file-for-id': {
    exit: 2,
    message: '{value} is the name of a file. An id has no ending.',
    hint: 'Write `{close}`.',
  },
  'documents.not-one-line': {
    exit: 2,
    message: '{value} has no visible character.',
    hint: 'Write something that can be seen.',
  },
  'documents.line-break': {
    exit: 2,
    message: '{value} has a line break.',
    hint: 'Write it on one line.',
  },
  'documents.control-in-text': {
    exit: 2,
    message: '{value} has a control character ({character}).',
    hint: 'Delete that character.',
  },
  'documents.not-digits': {
    exit: 2,
    message: '{value} is not made of digits.',
    hint: 'Write one to five of the digits 0 to 9, in quotes.',
  },
  'documents.station-words': {
    exit: 2,
    message: '{value} is not a line of words for a control.',
    hint: 'Write words such as `M3 S12000` or `G54`, with one space between them.',
  },
  'documents.body-falls': {
    exit: 2,
    message: 'The steps of a cutter do not go from its tip up.',
    hint: 'Give each a greater `from` than the one before it.',
  },
  'documents.station-words-move': {
    exit: 2,
    message:
      '{value} moves an axis or changes the units, distance mode or feed mode. Only burin may do that.',
    hint: 'Remove that word.',
  },
  'documents.cannot-be-used': {
    exit: 2,
    message: '{value} cannot be used here.',
    hint: 'Give {expected}.',
  },
} as const;
