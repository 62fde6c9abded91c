import { InvalidArgumentError } from 'commander';

/** Reads an option or argument that counts events. `asked` says what to give, where it is no such number. */
export const wholeNumber =
  (asked: string) =>
  (text: string): number => {
    if (!/^(0|[1-9][0-9]{0,8})$/.test(text)) throw new InvalidArgumentError(asked);
    return Number(text);
  };
