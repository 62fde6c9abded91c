import { existsSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { build } from 'rolldown';
import config from '../rolldown.config.js';

/** Before the tests: bundles the command again where a source is newer, so that no test starts an old one. */
export default async function bundle(): Promise<void> {
  const sources = readdirSync('src', { recursive: true, encoding: 'utf8' }).map((file) => join('src', file));
  const changed = Math.max(...['rolldown.config.ts', ...sources].map(modified));
  if (modified('dist/bin/burin.js') < changed) await build(config);
}

const modified = (file: string): number => (existsSync(file) ? statSync(file).mtimeMs : 0);
