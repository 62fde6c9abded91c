import { join } from 'node:path';

/** Where the statement of an edition is when nothing else was said. */
export const statementFile = (dir: string, edition: string): string =>
  join(dir, 'out', edition, 'statement-of-edition.json');
