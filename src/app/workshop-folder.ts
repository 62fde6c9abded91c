import { cp, mkdir, readdir, rm, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { writeJsonSchemas } from '../documents/json-schema.js';
import { Refusal } from '../problem.js';
import { diskProblem } from './disk.js';
import { refuse } from './workshop-messages.js';

/** `templates/` lies beside `src/` and `dist/` alike. */
const templates = join(dirname(fileURLToPath(import.meta.url)), '..', '..', 'templates');

export async function templateNames(): Promise<string[]> {
  const entries = await readdir(templates, { withFileTypes: true });
  return entries.flatMap((e) => (e.isDirectory() ? [e.name] : [])).sort();
}

/** Makes a workshop folder from a template, with the JSON Schemas an editor completes documents from. */
export async function newWorkshop(dir: string, template: string): Promise<void> {
  const known = await templateNames();
  if (!known.includes(template))
    throw refuse('workshop.template-unknown', `template ${template.slice(0, 60)}`, { known });
  const there = await stat(dir).catch(() => undefined);
  if (there && !there.isDirectory()) throw refuse('workshop.folder-is-file', dir, {});
  if (there && (await readdir(dir)).length > 0) throw refuse('workshop.folder-not-empty', dir, {});
  let made: string | undefined;
  try {
    made = await mkdir(dir, { recursive: true });
    await cp(join(templates, template), dir, { recursive: true });
    await writeJsonSchemas(join(dir, 'schemas'));
  } catch (error) {
    // Half a workshop is none, and would bar the way to another: the folder is as it was, empty or not there.
    const left = made === undefined ? (await readdir(dir)).map((name) => join(dir, name)) : [made];
    for (const path of left) await rm(path, { recursive: true, force: true }).catch(() => undefined);
    const found = diskProblem(error, dir);
    throw found ? new Refusal([found]) : error;
  }
}
