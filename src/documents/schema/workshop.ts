import { z } from 'zod';
import { id, line, title, version } from './scalar.js';

/** An outline font of the workshop's own: a TTF, OTF or WOFF file inside the workshop folder. */
const ownFont = z.strictObject({
  file: line(240).describe('TTF, OTF or WOFF file, relative to the workshop'),
});

export const workshop = z.strictObject({
  kind: z.literal('workshop').describe('what this document is'),
  version,
  name: title.describe('the bench, as it appears on sheets'),
  maker: title.optional().describe('the maker, as it appears on certificates; the bench when left out'),
  // Its form is looked at in the checks between documents: a schema's message would repeat it, password and all.
  register: z
    .string()
    .min(1)
    .max(500)
    .optional()
    .describe('where the register is kept, such as `postgres://host/database`; in this folder when left out'),
  fonts: z.record(id, ownFont).optional().describe('fonts beyond those burin carries, by the id designs use'),
});

export type Workshop = z.infer<typeof workshop>;
