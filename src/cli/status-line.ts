import type { NumberStatus } from '../register/lifecycle.js';

/** Each named part and how it stands; nothing for a piece that is one whole. */
export const partsLine = ({ parts }: Pick<NumberStatus, 'parts'>): string =>
  parts
    .flatMap(({ part, state, pieces }) =>
      part ? [`${part} ${state}${pieces > 1 ? ` (${pieces})` : ''}`] : [],
    )
    .join('; ');

/** What a number came to, or would come to. */
export const statusLine = (status: NumberStatus, dryRun: boolean): string =>
  `${status.label} ${dryRun ? 'would be' : 'is'} ${[status.state, partsLine(status)].filter(Boolean).join(': ')}`;
