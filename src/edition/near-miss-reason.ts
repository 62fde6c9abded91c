import { type Difference, nameOfDifference } from './differences.js';

/** Why a label was probably meant by a text that is not a label. */
export type NearMissReason =
  | { readonly kind: 'differs'; readonly differences: readonly Difference[] }
  | { readonly kind: 'unusual-roman'; readonly written: string; readonly meant: string }
  | { readonly kind: 'other-numerals'; readonly written: string; readonly meant: string }
  | { readonly kind: 'swapped'; readonly swapped: string }
  | { readonly kind: 'other-total'; readonly written: string; readonly meant: string }
  | { readonly kind: 'total-missing'; readonly meant: string }
  | { readonly kind: 'prefix-missing'; readonly meant: string }
  | { readonly kind: 'other-prefix'; readonly written: string; readonly meant: string }
  | { readonly kind: 'prefix-not-wanted'; readonly written: string };

/** The reason in words, to go in brackets behind the label. */
export function describeReason(reason: NearMissReason): string {
  switch (reason.kind) {
    case 'differs':
      return reason.differences.map(nameOfDifference).join(', ') || 'reads the same';
    case 'unusual-roman':
      return `${reason.meant} is written ${reason.written}`;
    case 'other-numerals':
      return `${reason.meant} for ${reason.written}`;
    case 'swapped':
      return `the digits ${reason.swapped} are swapped`;
    case 'other-total':
      return `the total is ${reason.meant}, not ${reason.written}`;
    case 'total-missing':
      return `the total ${reason.meant} is missing`;
    case 'prefix-missing':
      return `"${reason.meant}" before the number is missing`;
    case 'other-prefix':
      return `"${reason.meant}" goes before the number, not "${reason.written}"`;
    case 'prefix-not-wanted':
      return `nothing goes before the number, not "${reason.written}"`;
  }
}
