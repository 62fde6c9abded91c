import { execFile } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { bigRegister, bigServerRegister } from './big-register.mjs';
import { median, spread } from './rounds.mjs';

const EVENTS = 1_000_000;

export const title = `a register of ${EVENTS} events audited, against SHA-256 of the same bytes and a scan of the rows (needs 1 GB of disk)`;

const SIDES = `audit      every event read, held against its hash, its place, its time, its request and every rule; the tree built.
scan       the same rows read in the same order, and SHA-256 taken of each text; nothing else.
Each in a process of its own; they take turns. cpu is what the process itself used, wherever it waited. On a server, too,
with --server, or where BENCH_SERVER is the URL of an empty database.`;

export async function measure({ rounds }) {
  const url = process.env.BENCH_SERVER;
  return [
    SIDES,
    ...(await measureStore(await bigRegister(EVENTS), rounds)),
    ...(url ? ['On a server:', ...(await measureStore(await bigServerRegister(url, EVENTS), rounds))] : []),
  ];
}

async function measureStore({ place, bytes, clear }, rounds) {
  try {
    const script = fileURLToPath(new URL('audit-once.mjs', import.meta.url));
    const once = async (how) => {
      const { stdout } = await promisify(execFile)(process.execPath, [script, JSON.stringify(place), how]);
      const said = JSON.parse(stdout);
      if (said.events !== EVENTS) throw new Error(`${how}: ${said.events} events`);
      return said;
    };
    const said = { audit: [], scan: [] };
    for (let round = 0; round < rounds; round++)
      for (const how of round % 2 === 0 ? ['audit', 'scan'] : ['scan', 'audit'])
        said[how].push(await once(how));
    const of = (how, what) => said[how].map((one) => one[what]);
    const ratio = (what) => (median(of('audit', what)) / median(of('scan', what))).toFixed(2);
    return [
      `${(bytes / 1e6).toFixed(0)} MB of text, ${rounds} rounds:`,
      ['audit', 'scan'].flatMap((how) => [
        { side: `${how}, ms`, ...spread(of(how, 'ms')) },
        { side: `${how}, cpu ms`, ...spread(of(how, 'cpuMs')) },
        { side: `${how}, most memory MB`, ...spread(of(how, 'bytes').map((b) => b / 1e6)) },
      ]),
      `audit / scan, of the medians: ${ratio('ms')} by the clock, ${ratio('cpuMs')} by cpu (wanted: 1.6 or less; memory under 300 MB)`,
    ];
  } finally {
    await clear();
  }
}
