/** What can be wrong with a request. */
export const requestMessages = {
  'register.malformed-event': {
    exit: 2,
    message: 'The entry is not valid: {faults}.',
    hint: 'Correct it, then ask again.',
  },
  'register.malformed-request': {
    exit: 2,
    message: 'The request is not valid: {fault}.',
    hint: 'Correct it, then ask again.',
  },
  'register.no-witness': {
    exit: 2,
    message: 'No witness of the destruction is named.',
    hint: 'Name with --witness who saw it: someone other than the one who records it.',
  },
  'register.nothing-planned': {
    exit: 2,
    message: 'No number of this series is planned.',
    hint: 'Name a series of the edition.',
  },
  'register.plan-not-ascending': {
    exit: 2,
    message: 'The numbers to issue are not listed from the lowest up, each once.',
    hint: 'Correct the list, then ask again.',
  },
  'register.too-few-free': {
    exit: 3,
    message:
      '{count, plural, one {# number was} other {# numbers were}} asked for, but {free, plural, =0 {none is} one {only # is} other {only # are}} free. Nothing was issued.',
    hint: '{free, plural, =0 {All planned numbers are issued, withheld or void} other {Ask for # or fewer}}.',
  },
  'register.chosen-not-planned': {
    exit: 3,
    message: 'The series has no number {label} to issue.',
    hint: 'Name labels that the edition plans and does not exclude.',
  },
  'register.key-reused': {
    exit: 3,
    message: 'The key {key} was used for another request.',
    hint: 'Ask with a new key, or repeat the first request exactly.',
  },
  'register.none-entered': {
    exit: 3,
    message: '{refused} of {asked} events cannot be entered, so nothing was entered.',
    hint: 'Mend these, or leave their numbers out, and ask again.',
  },
  'register.import-refused': {
    exit: 3,
    message: '{place}: {fault} Nothing was imported.',
    hint: 'Correct event {row}, then import all of them again.',
  },
} as const;
