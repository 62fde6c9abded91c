// One process that issues and records, from the built program: FILE-OR-URL NAME FROM COUNT.
// It is killed and begun again at FROM, the request it last asked: it asks the one before again too, so that an
// answer given twice can be compared. Each line is written only once what it says has happened.
import { writeSync } from 'node:fs';
import { plannedCount } from '../../dist/edition/labels.js';
import { openRegister } from '../../dist/register/open.js';
import { countOf, editionOf } from './request.mjs';

const [where, name, from, count] = process.argv.slice(2);
const planned = plannedCount({ id: 'main', from: 1, to: 3000, figures: 'arabic', pad: 4, exclude: [] });
const place = where.startsWith('postgres:')
  ? { kind: 'postgres', url: where }
  : { kind: 'sqlite', file: where };
const register = await openRegister(place, { now: () => new Date() });
writeSync(1, 'open\n');
const last = Number(from) + Number(count);
for (let i = Math.max(1, Number(from) - 1); i < last; i++) {
  const key = `${name}-${i}`;
  const edition = editionOf(i);
  writeSync(1, `asked ${i}\n`);
  const got = await register.issue({ edition, series: 'main', planned, count: countOf(i), by: name, key });
  writeSync(1, `given ${i} ${got.map(({ number }) => number).join(',')}\n`);
  for (const event of ['engraved', 'inspected']) {
    const { state } = await register.record({
      ...{ edition, ...got[0], event, by: name, key: `${key} ${event}` },
    });
    writeSync(1, `stood ${i} ${event} ${state}\n`);
  }
}
await register.close();
