import type { NumberStatus } from '../register/lifecycle.js';

/** Each named part and how it stands; nothing for a piece that is one whole. */
export function partsLine({ parts }: Pick<NumberStatus, 'parts'>): string {
  let line = '';
  for (const { part, state, pieces } of parts) {
    if (!part) continue;
    line += `${line && '; '}${part} ${state}${pieces > 1 ? ` (${pieces})` : ''}`;
  }
  return line;
}

/** What a number came to, or would come to. */
export const statusLine = (status: NumberStatus, dryRun: boolean): string =>
  `${status.label} ${dryRun ? 'would be' : 'is'} ${[status.state, partsLine(status)].filter(Boolean).join(': ')}`;
