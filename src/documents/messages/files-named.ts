/** Files that a document names: fonts, drawings, lists of dedications. */
export const namedFileMessages = {
  'documents.font-path-outside': {
    exit: 2,
    message: '`{file}` is not a path inside the workshop.',
    hint: 'Copy the font into the workshop, and give its path from there.',
  },
  'documents.font-path-backslash': {
    exit: 2,
    message: '`{file}` has backslashes.',
    hint: 'Write the path with forward slashes.',
  },
  'documents.font-woff2': {
    exit: 2,
    message: 'burin does not read WOFF2 files.',
    hint: 'Use the TTF, OTF or WOFF file of the font.',
  },
  'documents.font-form': {
    exit: 2,
    message: '`{file}` is not a TTF, OTF or WOFF file.',
    hint: 'Give an outline font in one of these forms.',
  },
  'documents.font-id-taken': {
    exit: 2,
    message: 'burin has a font `{id}` of its own.',
    hint: 'Choose another id.',
  },
  'documents.font-unknown': {
    exit: 1,
    message: 'There is no font `{id}`.',
    hint: 'Use one of these: {known}. Or add the font to the workshop.',
  },
  'documents.font-not-installed': {
    exit: 1,
    message: '{family} (package {package}) is not installed.',
    hint: 'Install burin again with all its packages.',
  },
  'documents.piece-files-clash': {
    exit: 2,
    message: '{one} and {other} would both be written to {file}.',
    hint: 'Give one of the parts, surfaces or cutters another id.',
  },
  'documents.dedications-too-many': {
    exit: 2,
    message: 'The list has more than {most, number} rows.',
    hint: 'Check that it is the file you meant.',
  },
  'documents.dedication-number': {
    exit: 2,
    message: '`{number}` is not the number of a piece.',
    hint: 'Give a whole number from 1 to 99999.',
  },
  'documents.dedication-twice': {
    exit: 2,
    message: 'Number {number} is in row {row} already.',
    hint: 'Keep one of them.',
  },
  'documents.dedication-no-series': {
    exit: 2,
    message: 'This row names no series, but others do.',
    hint: 'Name the series in every row, or in none.',
  },
  'documents.dedication-empty': {
    exit: 2,
    message: 'This row has no words.',
    hint: 'Give the words, or remove the row.',
  },
  'documents.dedication-invisible': {
    exit: 2,
    message: 'The words have an invisible character ({character}).',
    hint: 'Type the words again.',
  },
  'documents.dedication-too-long': {
    exit: 2,
    message: 'The words have more than {most, number} characters.',
    hint: 'Shorten them.',
  },
  'documents.dedication-rows': {
    exit: 2,
    message: 'The words have more than {most, number} rows.',
    hint: 'Shorten them.',
  },
} as const;
