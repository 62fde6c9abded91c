import { definePhrases } from '../problem.js';

/** What is wrong with one member of a request or an event. */
export const faults = definePhrases(', ', {
  'register.fault-not-wanted': '{names} cannot be given for this event',
  'register.fault-not-whole': '{name} is not a whole number',
  'register.fault-missing': '{name} is missing',
  'register.fault-other-form': '{name} is not {expected}',
  'register.fault-empty': '{name} is empty',
  'register.fault-empty-list': '{name} is an empty list',
  'register.fault-too-small': '{name} is less than {least}',
  'register.fault-too-long': '{name} has more than {most} characters',
  'register.fault-too-many': '{name} has more than {most} entries',
  'register.fault-too-large': '{name} is more than {most}',
  'register.fault-not-a-day': '{name} is not a day such as 2031-03-01',
  'register.fault-blank': '{name} is blank',
  'register.fault-half-character': '{name} has half of a character',
  'register.fault-part-twice': '{name} names a part twice',
  'register.fault-not-an-id': '{name} is not an id of lower-case letters, digits and hyphens',
  'register.fault-line-break': '{name} has a line break, and must be one line',
  'register.fault-control-character': '{name} has a control character ({character})',
  'register.fault-nothing-corrected': 'neither a buyer nor a day is given',
  'register.fault-form': '{name} does not have the right form',
});

/** A member of a request or an event, with the option that gives it. */
export const fields = definePhrases(', ', {
  'register.field-by': 'the name of the person (--by)',
  'register.field-why': 'the reason (--why)',
  'register.field-to': 'the buyer (--to)',
  'register.field-on': 'the day',
  'register.field-witness': 'the witness (--witness)',
  'register.field-part': 'the part (--part)',
  'register.field-key': 'the key of the request (--key)',
  'register.field-request': 'the request',
  'register.field-other': '`{path}`',
});

/** Conditions of our own, by the code that their schema gives in place of a message. */
export const CONDITIONS = {
  blank: 'register.fault-blank',
  halfCharacter: 'register.fault-half-character',
  partTwice: 'register.fault-part-twice',
  nothingCorrected: 'register.fault-nothing-corrected',
} as const;
