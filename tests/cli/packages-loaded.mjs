import { appendFileSync } from 'node:fs';
import { register } from 'node:module';

/** Imported before a program: writes the URL of every module that it loads, a line each, to the file PACKAGES names. */
export async function load(url, context, next) {
  appendFileSync(process.env.PACKAGES, `${url}\n`);
  return next(url, context);
}

// The hook runs in a thread of its own, which loads this file again with another URL.
if (!import.meta.url.endsWith('?hook')) register(`${import.meta.url}?hook`);
