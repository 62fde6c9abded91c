// One reading of a register in a process of its own, so that its memory is its own: PLACE (JSON), then audit | scan.
import { hash } from 'node:crypto';
import Database from 'better-sqlite3';
import pg from 'pg';
import { edition } from '../../dist/documents/schema/edition.js';
import { audit } from '../../dist/register/audit/audit.js';
import { openRegister } from '../../dist/register/open.js';

const [given, how] = process.argv.slice(2);
const place = JSON.parse(given);
const ways = {
  audit: async () => {
    const register = await openRegister(place, { now: () => new Date() });
    const report = await audit(register, { editions: documents(), eventsOnly: true });
    await register.close();
    if (!report.ok) throw new Error(JSON.stringify(report.findings.find(({ grade }) => grade === 'fault')));
    return report.events;
  },
  scan: async () => {
    if (place.kind === 'postgres') return scanServer();
    const db = new Database(place.file, { readonly: true });
    let events = 0;
    for (const { body } of db.prepare('SELECT seq, body, leaf FROM event ORDER BY seq').iterate()) {
      hash('sha256', body, 'buffer');
      events++;
    }
    db.close();
    return events;
  },
};
/** As many rows at once as the register reads. */
async function scanServer() {
  const client = new pg.Client({ connectionString: place.url });
  await client.connect();
  const text = 'SELECT seq, body, leaf FROM burin.event WHERE seq >= $1 ORDER BY seq LIMIT 500';
  let events = 0;
  for (let from = 0; ; ) {
    const { rows } = await client.query({ name: 'scan', text, values: [from] });
    for (const { body } of rows) hash('sha256', body, 'buffer');
    events += rows.length;
    if (rows.length === 0) break;
    from = Number(rows.at(-1).seq) + 1;
  }
  await client.end();
  return events;
}

/** The documents that planned the editions of the register: all alike but for their ids. */
function documents() {
  const series = [{ id: 'main', title: 'numbered edition', to: 90, total: { joiner: '/' } }];
  const document = edition.parse({
    kind: 'edition',
    version: 1,
    name: 'Lights',
    designs: ['barrel'],
    series,
  });
  return new Map(Array.from({ length: 2778 }, (_, i) => [`lights-${i}`, document]));
}

const start = performance.now();
const cpu = process.cpuUsage();
const events = await ways[how]();
const { user, system } = process.cpuUsage(cpu);
console.log(
  JSON.stringify({
    events,
    ms: performance.now() - start,
    cpuMs: (user + system) / 1000,
    bytes: process.resourceUsage().maxRSS * 1024,
  }),
);
