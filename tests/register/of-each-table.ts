import { test } from 'vitest';

export type Test = Pick<typeof test, 'each'> & ((name: string, work: () => Promise<void>) => void);

/** As `test`, with the first and the last case of each table, where another file tries every one. */
export const firstAndLast: Test = Object.assign(
  (name: string, work: () => Promise<void>) => {
    test(name, work);
  },
  {
    each: ((cases: readonly unknown[]) =>
      test.each(cases.filter((_, i) => i === 0 || i === cases.length - 1))) as typeof test.each,
  },
);
