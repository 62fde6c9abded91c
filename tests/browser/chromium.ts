import { existsSync } from 'node:fs';
import sparticuz from '@sparticuz/chromium';
import { type Browser, chromium } from 'playwright-core';

let shared: Promise<Browser> | undefined;

/** One Chromium for all test files of this process. It ends with the process; close the pages. */
export function sharedChromium(): Promise<Browser> {
  shared ??= openChromium();
  return shared;
}

/** A real Chromium: the one CHROME_PATH names, or the one that comes as a package. */
async function openChromium(): Promise<Browser> {
  const own = process.env.CHROME_PATH;
  if (own && !existsSync(own)) throw new Error('CHROME_PATH names no file');
  const root = process.getuid?.() === 0 ? ['--no-sandbox'] : [];
  if (own) return chromium.launch({ executablePath: own, args: root });
  return chromium.launch({
    executablePath: await unpacked(),
    args: [...sparticuz.args.filter((a) => a !== '--single-process' && a !== '--no-zygote'), ...root],
    headless: true,
  });
}

/** The program is unpacked once for all runs, so not into memory that is given back after one. */
async function unpacked(): Promise<string> {
  const { TMPDIR, DISK_TMPDIR } = process.env;
  if (DISK_TMPDIR === undefined) return sparticuz.executablePath();
  process.env.TMPDIR = DISK_TMPDIR;
  try {
    return await sparticuz.executablePath();
  } finally {
    process.env.TMPDIR = TMPDIR;
  }
}
