/** Cuts a workshop's big edition once and prints, as JSON, how long it took and the most memory it held. */

import { cutEdition } from '../../dist/app/cut.js';
import { openWorkshop } from '../../dist/app/workshop.js';
import { environmentFor, order } from './big-edition.mjs';

const [workshop, out] = process.argv.slice(2);
const start = performance.now();
await cutEdition(await openWorkshop(workshop, environmentFor(workshop)), order(out));
const ms = performance.now() - start;
console.log(JSON.stringify({ ms, bytes: process.resourceUsage().maxRSS * 1024 }));
