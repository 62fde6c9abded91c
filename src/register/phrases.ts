import { definePhrases } from '../problem.js';

/** What is wrong with one member of a request or an event. */
export const faults = definePhrases(', ', {
  'register.fault-not-wanted': '{names} cannot be given with it',
  'register.fault-not-whole': '{name} is not a whole number',
  'register.fault-missing': '{name} is missing or not a {expected}',
  'register.fault-empty': '{name} is empty',
  'register.fault-empty-list': '{name} is an empty list',
  'register.fault-too-small': '{name} is less than {least}',
  'register.fault-too-long': '{name} has more than {most} characters',
  'register.fault-too-many': '{name} has more than {most} entries',
  'register.fault-too-large': '{name} is more than {most}',
  'register.fault-not-a-day': '{name} is not a day, such as 2031-03-01',
  'register.fault-blank': '{name} must not be blank',
  'register.fault-half-character': '{name} must be whole characters',
  'register.fault-part-twice': '{name} must name each part once',
  'register.fault-nothing-corrected': 'neither a buyer nor a day is given',
  'register.fault-form': '{name} is not well formed',
});

/** Conditions of our own, by the code that their schema gives in place of a message. */
export const CONDITIONS = {
  blank: 'register.fault-blank',
  halfCharacter: 'register.fault-half-character',
  partTwice: 'register.fault-part-twice',
  nothingCorrected: 'register.fault-nothing-corrected',
} as const;
