import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { outlines, readSvg } from '../../src/artwork/svg.js';
import { problemLine, Refusal } from '../../src/problem.js';
import { type Hostile, READ, REFUSED, TANGLED } from './hostile-files.js';

/** The bars for each file. */
const SLOWEST_S = 2;
const LARGEST_MB = 500;

/** A place, what is wrong, and how to mend it. */
const LINE = /^art\.svg(:\d+:\d+)?: [A-Z].*\. [A-Z].*\.$/;

/**
 * What comes of a file, with the processor's seconds it took (the machine may be at other work) and the most memory
 * beyond what was held before, in MB.
 */
function measured<T>(work: () => T): { made: T; seconds: number; megabytes: number } {
  lowerMark();
  const before = process.memoryUsage().rss / 1e6;
  const from = process.cpuUsage();
  const made = work();
  const { user, system } = process.cpuUsage(from);
  const seconds = (user + system) / 1e6;
  return { made, seconds, megabytes: highestMark() - before };
}

const OWN_MARK = '/proc/self/clear_refs';

/** Lets the mark of the most memory held begin anew, where the system can (proc(5), clear_refs, value 5). */
function lowerMark(): void {
  if (existsSync(OWN_MARK)) writeFileSync(OWN_MARK, '5');
}

/** The most memory held since then, MB; elsewhere since the process began: more than a file took, never less. */
function highestMark(): number {
  if (!existsSync(OWN_MARK)) return (process.resourceUsage().maxRSS * 1024) / 1e6;
  const line = /^VmHWM:\s+(\d+) kB$/m.exec(readFileSync('/proc/self/status', 'utf8'));
  return (Number(line?.[1]) * 1024) / 1e6;
}

const withinBars = ({ seconds, megabytes }: { seconds: number; megabytes: number }) => {
  expect(seconds).toBeLessThan(SLOWEST_S);
  expect(megabytes).toBeLessThan(LARGEST_MB);
};

it('counts at least sixty files', () => {
  expect(REFUSED.length + TANGLED.length + READ.length).toBeGreaterThanOrEqual(60);
});

describe('hostile drawings', () => {
  it.each(REFUSED as Hostile[])('refuses %s', (_, text) => {
    const file = text();
    const result = measured(() => readSvg(file, 'art.svg'));
    withinBars(result);
    const read = result.made;
    expect(read.ok).toBe(false);
    if (!read.ok) expect(problemLine(read.problem)).toMatch(LINE);
  });

  it.each(TANGLED as Hostile[])('reads %s, and refuses its areas', (_, text) => {
    const file = text();
    const result = measured(() => {
      const read = readSvg(file, 'art.svg');
      if (!read.ok) throw new Error(problemLine(read.problem));
      try {
        return outlines(read.drawing, 'outline');
      } catch (error) {
        return error;
      }
    });
    withinBars(result);
    expect(result.made).toBeInstanceOf(Refusal);
    expect((result.made as Refusal).message).toMatch(
      /^1:\d+ (path|rect|circle): (It crosses itself too often|Clips and edges cut).*\.$/,
    );
  });

  it.each(READ as Hostile[])('reads %s', (_, text) => {
    const file = text();
    const result = measured(() => {
      const read = readSvg(file, 'art.svg');
      if (!read.ok) throw new Error(problemLine(read.problem));
      return { ...read, cut: [outlines(read.drawing, 'outline'), outlines(read.drawing, 'line')] };
    });
    withinBars(result);
    const figures = result.made.cut
      .flatMap(({ areas, lines }) => [...areas, ...lines])
      .flatMap((s) => s.slice(1) as number[]);
    expect(figures.filter((v) => !Number.isFinite(v))).toEqual([]);
  });
});
