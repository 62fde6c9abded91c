import type { Problem } from '../problem.js';
import { problem, type table } from './messages.js';

type Code = keyof typeof table & string;

/** Reports what is wrong with a line of a program, lines counted from 1. */
export type Report = <C extends Code>(
  line: number,
  code: C,
  values: Parameters<typeof problem<C>>[2],
) => void;

/** What is wrong with a program, up to a limit: past it, further faults say nothing new. */
export interface FaultList {
  readonly problems: readonly Problem[];
  readonly isFull: () => boolean;
  readonly report: Report;
}

/** `mostOfKind`: so many with one code are kept, that a further kind finds room. */
export function faultList(most: number, mostOfKind = most): FaultList {
  const problems: Problem[] = [];
  const kinds = new Map<string, number>();
  const isFull = () => problems.length >= most;
  return {
    problems,
    isFull,
    report: (line, code, values) => {
      const before = kinds.get(code) ?? 0;
      if (isFull() || before >= mostOfKind) return;
      kinds.set(code, before + 1);
      problems.push(problem(code, `line ${line}`, values));
    },
  };
}
