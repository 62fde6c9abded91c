import { execFile } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { bigEdition } from './big-edition.mjs';

const SIZES = [100, 1000, 10_000];

export const title = 'memory held while an edition is cut, each in a process of its own (needs 3 GB of disk)';

export async function measure() {
  const rows = [];
  for (const pieces of SIZES) {
    const place = await bigEdition(pieces);
    try {
      const script = fileURLToPath(new URL('cut-once.mjs', import.meta.url));
      const { stdout } = await promisify(execFile)(process.execPath, [script, place.workshop, place.out]);
      const { ms, bytes } = JSON.parse(stdout);
      rows.push({ pieces, 'most memory, MB': (bytes / 1e6).toFixed(0), 'time, s': (ms / 1000).toFixed(1) });
    } finally {
      await place.clear();
    }
  }
  return [rows];
}
