import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';

/** One way of spoiling the good workshop, and the line it must be answered with. */
export interface Broken {
  readonly name: string;
  /** Spoils a copy of the good workshop that lies in `dir`. */
  readonly spoil: (dir: string) => void;
  /** How the one line begins: place, and what is wrong with it. */
  readonly line: string;
  /** How many lines there are in all, where one slip rightly shows in more than one place. */
  readonly lines?: number;
  /** Some slips cannot be made by a user whom no right is denied. */
  readonly unlessRoot?: boolean;
}

export type Spoil = Broken['spoil'];

/** Replaces text that stands exactly once in a document. */
export const swap =
  (file: string, from: string, to: string): Spoil =>
  (dir) => {
    const at = path.join(dir, file);
    const text = readFileSync(at, 'utf8');
    if (text.split(from).length !== 2) throw new Error(`${from} does not stand exactly once in ${file}`);
    writeFileSync(
      at,
      text.replace(from, () => to),
    );
  };

export const write =
  (file: string, content: string | Uint8Array): Spoil =>
  (dir) =>
    writeFileSync(path.join(dir, file), content);

export const append =
  (file: string, content: string): Spoil =>
  (dir) => {
    const at = path.join(dir, file);
    writeFileSync(at, readFileSync(at, 'utf8') + content);
  };

/** Puts bytes before the document. */
export const prefix =
  (file: string, bytes: readonly number[]): Spoil =>
  (dir) => {
    const at = path.join(dir, file);
    writeFileSync(at, Buffer.concat([Buffer.from(bytes), readFileSync(at)]));
  };

export const both =
  (...spoils: Spoil[]): Spoil =>
  (dir) => {
    for (const spoil of spoils) spoil(dir);
  };

export const broken = (
  name: string,
  spoil: Spoil,
  line: string,
  rest: Pick<Broken, 'lines' | 'unlessRoot'> = {},
): Broken => ({ name, spoil, line, ...rest });
