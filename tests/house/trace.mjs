import { writeFileSync } from 'node:fs';
import { register } from 'node:module';

/**
 * Notes every call that `app/` makes into another room, in order: `[caller's room file, file, function]`. Load it with
 * `--import`; it writes them to the file that TRACE_FILE names.
 */
const NOTHING = [];
const entries = [];
let callee;

globalThis.trace = {
  /** A call from `app/` is about to be made: the next function that is entered answers it. */
  calls(name) {
    callee = name;
    return NOTHING;
  },
  entered(file, name) {
    if (callee === undefined) return;
    if (!file.startsWith('app/')) entries.push([file, name || callee]);
    callee = undefined;
  },
  /** What was called may be no function of the house. */
  returned(value) {
    callee = undefined;
    return value;
  },
};
register('./trace-loader.mjs', import.meta.url);
process.on('exit', () => writeFileSync(process.env.TRACE_FILE, JSON.stringify(entries)));
