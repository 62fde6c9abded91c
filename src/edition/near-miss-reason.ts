import type { Phrase } from '../problem.js';
import { type Difference, differencePhrase } from './differences.js';
import { reasons } from './phrases.js';

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

/** The reason as a part of a message, to go in brackets behind the label. */
export function reasonPhrase(reason: NearMissReason): Phrase {
  const { kind } = reason;
  switch (kind) {
    case 'differs':
      return reason.differences.length > 0
        ? reasons.phrase('edition.reason-differs', { differences: reason.differences.map(differencePhrase) })
        : reasons.phrase('edition.reason-reads-the-same', {});
    case 'swapped':
      return reasons.phrase('edition.reason-swapped', { swapped: reason.swapped });
    case 'total-missing':
    case 'prefix-missing':
      return reasons.phrase(`edition.reason-${kind}`, { meant: reason.meant });
    case 'prefix-not-wanted':
      return reasons.phrase('edition.reason-prefix-not-wanted', { written: reason.written });
    default:
      return reasons.phrase(`edition.reason-${kind}`, { written: reason.written, meant: reason.meant });
  }
}
