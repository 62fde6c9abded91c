/** How often a built-in method is called while work is done: the steps of what has no counter of its own. */
export function countCalls<T extends object>(prototype: T, name: keyof T & string, work: () => void): number {
  const own = Object.getOwnPropertyDescriptor(prototype, name)!;
  let calls = 0;
  Object.defineProperty(prototype, name, {
    ...own,
    value(this: unknown, ...args: unknown[]) {
      calls++;
      return own.value.apply(this, args);
    },
  });
  try {
    work();
  } finally {
    Object.defineProperty(prototype, name, own);
  }
  return calls;
}
