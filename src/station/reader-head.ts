/** What a program's first lines say, in their order. */
export const HEAD_KEYS = [
  'edition',
  'label',
  'design',
  'part',
  'surface',
  'cutter',
  'set-up',
  'documents',
] as const;

export type ReadHead = Readonly<Record<(typeof HEAD_KEYS)[number], string>>;

export interface Remark {
  readonly key: string;
  readonly value: string;
}

/**
 * Comments in parentheses, never nested: NISTIR 6556 section 3.3.4. Only characters that mean nothing to a control, and no
 * blank at either end.
 */
const REMARK = /^\(([a-z-]+): (?! )([A-Za-z0-9 .,\-_/#:]+)(?<! )\)$/;

export function readRemark(line: string): Remark | undefined {
  const found = REMARK.exec(line);
  return found ? { key: found[1]!, value: found[2]! } : undefined;
}

/** The comment that a line would be with its blanks put right; undefined where it is one, or none at all. */
export function remarkMeant(line: string): string | undefined {
  const [, key = '', value = ''] = /^\(([a-z-]+):(.*)\)$/.exec(line.trim()) ?? [];
  const meant = `(${key}: ${value.trim()})`;
  return meant !== line && readRemark(meant) ? meant : undefined;
}

/** The head of the lines that a program begins with; undefined where one is not what the head has there. */
export function headOf(lines: readonly (Remark | undefined)[]): ReadHead | undefined {
  const head: Partial<Record<(typeof HEAD_KEYS)[number], string>> = {};
  for (const [k, key] of HEAD_KEYS.entries()) {
    const found = lines[k];
    if (found?.key !== key) return undefined;
    head[key] = found.value;
  }
  return isWhole(head) ? head : undefined;
}

const isWhole = (head: Partial<ReadHead>): head is ReadHead =>
  HEAD_KEYS.every((key) => head[key] !== undefined);
