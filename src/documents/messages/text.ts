/** A file that cannot be read, or whose bytes or YAML are no document. */
export const textMessages = {
  'documents.no-workshop': {
    exit: 2,
    message: 'There is no workshop folder here.',
    hint: 'Name the folder that holds `workshop.yaml`.',
  },
  'documents.file-missing': {
    exit: 2,
    message: 'The file does not exist.',
    hint: 'Add it, or correct the name or link that leads to it.',
  },
  'documents.file-is-folder': {
    exit: 2,
    message: 'There is a folder where a file should be.',
    hint: 'Rename the folder.',
  },
  'documents.folder-is-file': {
    exit: 2,
    message: 'There is a file where a folder should be.',
    hint: 'Rename the file, and make a folder.',
  },
  'documents.file-not-ordinary': {
    exit: 2,
    message: 'This is not an ordinary file.',
    hint: 'Put a file in its place.',
  },
  'documents.file-outside': {
    exit: 2,
    message: 'The file is a link that leaves the workshop.',
    hint: 'Copy what it points to into the workshop.',
  },
  'documents.folder-outside': {
    exit: 2,
    message: 'The folder is a link that leaves the workshop.',
    hint: 'Copy the folder into the workshop.',
  },
  'documents.file-links-to-itself': {
    exit: 2,
    message: 'The file is a link that leads to itself.',
    hint: 'Put the file itself in its place.',
  },
  'documents.file-forbidden': {
    exit: 2,
    message: 'You may not read this file.',
    hint: 'Give yourself the right to read it.',
  },
  'documents.folder-unreadable': {
    exit: 2,
    message: 'The folder cannot be read.',
    hint: 'Give yourself the right to read it.',
  },
  'documents.file-unreadable': {
    exit: 2,
    message: 'The file cannot be read (error {error}).',
    hint: 'Check the disk and the file.',
  },
  'documents.file-too-large': {
    exit: 2,
    message: 'The file is larger than {mb} MB.',
    hint: 'Check that it is the file you meant.',
  },
  'documents.file-ending': {
    exit: 2,
    message: 'Documents end in `.yaml`.',
    hint: 'Rename it to `{name}`.',
  },
  'documents.file-name': {
    exit: 2,
    message: 'The name `{stem}` is not an id. An id is at most 63 lower-case letters, digits and hyphens.',
    hint: 'Rename the file. Its name is the id that other documents use.',
  },
  'documents.file-empty': {
    exit: 2,
    message: 'The file is empty.',
    hint: 'Write a document, or remove the file.',
  },
  'documents.file-utf16': {
    exit: 2,
    message: 'The file is in UTF-16.',
    hint: 'Save it as UTF-8 without a byte order mark.',
  },
  'documents.file-byte-order-mark': {
    exit: 2,
    message: 'The file begins with a byte order mark.',
    hint: 'Save it as UTF-8 without a byte order mark.',
  },
  'documents.file-not-utf8': {
    exit: 2,
    message: 'This is not valid UTF-8.',
    hint: 'Save it as UTF-8 without a byte order mark.',
  },
  'documents.line-end': {
    exit: 2,
    message: 'A line ends in a carriage return without a line feed.',
    hint: 'Save the file with LF line ends.',
  },
  'documents.control-character': {
    exit: 2,
    message: 'The file has a control character ({character}).',
    hint: 'Delete it, and save the file as UTF-8.',
  },
  'documents.yaml-second-document': {
    exit: 2,
    message: 'A second document begins here.',
    hint: 'Keep one document in a file.',
  },
  'documents.yaml-no-document': {
    exit: 2,
    message: 'The file has no document in it.',
    hint: 'Write one, or remove the file.',
  },
  'documents.yaml-not-keys': {
    exit: 2,
    message: 'The document is {form}, but it must be keys with values.',
    hint: 'Begin with `kind:`.',
  },
  'documents.yaml-too-deep': {
    exit: 2,
    message: 'This is nested more than {most} levels deep.',
    hint: 'Look for brackets or dashes that are not closed.',
  },
  'documents.yaml-too-long': {
    exit: 2,
    message: 'The file is too long for a document of a workshop.',
    hint: 'Check that it is the file you meant, or reduce the corners of its outlines.',
  },
  'documents.yaml-tab': {
    exit: 2,
    message: 'This line is indented with a tab.',
    hint: 'Indent with spaces, two a level.',
  },
  'documents.yaml-indent': {
    exit: 2,
    message: 'This line is not indented like the lines it belongs with.',
    hint: 'Line it up with its neighbours, two spaces a level.',
  },
  'documents.yaml-continues': {
    exit: 2,
    message: 'The next line is indented as if it continued this one.',
    hint: 'Line it up with its neighbours, two spaces a level.',
  },
  'documents.yaml-open-quote': {
    exit: 2,
    message: 'A quoted text is not closed.',
    hint: 'Add the closing quote.',
  },
  'documents.yaml-open-bracket': {
    exit: 2,
    message: 'A bracket is not closed.',
    hint: 'Add the closing bracket, or indent the lines inside the brackets further.',
  },
  'documents.yaml-unclosed': {
    exit: 2,
    message: 'A quote, bracket or colon is missing here.',
    hint: 'Close what was opened, or write `key: value`.',
  },
  'documents.yaml-not-key-value': {
    exit: 2,
    message: 'This line is not `key: value`.',
    hint: 'Look for a missing colon, dash or closing quote.',
  },
  'documents.yaml-two-keys': {
    exit: 2,
    message: 'There is a second `key: value` on the same line.',
    hint: 'Give each key its own line, and put text with a colon in quotes.',
  },
  'documents.yaml-lines-in-brackets': {
    exit: 2,
    message: 'There are indented lines inside brackets.',
    hint: 'Write the brackets on one line, or leave them out.',
  },
  'documents.yaml-text-start': {
    exit: 2,
    message: 'This text begins with a character that has a meaning of its own in YAML.',
    hint: 'Put the text in quotes.',
  },
  'documents.yaml-escape': {
    exit: 2,
    message: 'This backslash does not begin an escape that YAML knows.',
    hint: 'Double it, or use single quotes.',
  },
  'documents.yaml-long-key': {
    exit: 2,
    message: 'This key is longer than 1024 characters.',
    hint: 'Look for a missing colon or closing quote.',
  },
  'documents.yaml-stray': {
    exit: 2,
    message: 'This does not belong here.',
    hint: 'Put text with characters such as `:`, `#` or quotes inside quotes, and check the line above.',
  },
  'documents.yaml-reference': {
    exit: 2,
    message: 'This refers to a value elsewhere (`&`, `*` or `<<`), which a document may not do.',
    hint: 'Write the value out.',
  },
  'documents.yaml-tag': {
    exit: 2,
    message: 'A document may not have YAML directives or tags.',
    hint: 'Remove the `%` line or the `!` tag.',
  },
  'documents.yaml-half-character': {
    exit: 2,
    message: 'This text has half of a character (one surrogate of a pair).',
    hint: 'Write the whole character, not its code.',
  },
  'documents.yaml-key-not-text': {
    exit: 2,
    message: 'This key is not text.',
    hint: 'Use text as the key. Put it in quotes if it is a number.',
  },
  'documents.yaml-key-reserved': {
    exit: 2,
    message: '`{key}` cannot be used as a key.',
    hint: 'Remove it, or choose another name.',
  },
  'documents.yaml-key-twice': {
    exit: 2,
    message: 'The key `{key}` is given twice.',
    hint: 'Keep one of them.',
  },
  'documents.more-problems': {
    exit: 2,
    message: 'There are more problems in this file.',
    hint: 'Correct those above, and check again.',
  },
} as const;
