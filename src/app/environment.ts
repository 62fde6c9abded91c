import type { Problem } from '../problem.js';
import { keysFolder } from '../register/log/keys.js';
import { refuse } from './workshop-messages.js';

/** What the environment of the process decides. A door reads it once and passes it in. */
export interface Environment {
  /** URL of the register, before what workshop.yaml says; refused where it is used and empty. */
  readonly registerUrl: string | undefined;
  /** The folder of the maker's keys. */
  readonly keysFolder: string;
  /** Left out, what is entered is remembered beside the keys; false for a bench that nobody goes on with. */
  readonly keepsMemory?: false;
  /** Gets what keeps this machine from remembering what was entered. */
  readonly tell?: (problem: Problem) => void | Promise<void>;
  /** Is told of what makes a register less safe than it should be. */
  readonly warn?: (problem: Problem) => void | Promise<void>;
  /** The day as a person confirms it, for a clock that is far from the last entry. */
  readonly today?: string;
}

/**
 * Reads BURIN_REGISTER, BURIN_KEYS, BURIN_TODAY and XDG_CONFIG_HOME from the variables of a process. Throws a Refusal
 * (exit 2) for one that is empty.
 */
export function environmentOf(variables: Readonly<Record<string, string | undefined>>): Environment {
  // Empty is a slip in a script: to go on with another folder, or another day, would not show it.
  for (const name of ['BURIN_KEYS', 'BURIN_TODAY'] as const)
    if (variables[name]?.trim() === '') throw refuse('workshop.setting-empty', name, {});
  return {
    registerUrl: variables.BURIN_REGISTER,
    keysFolder: keysFolder(variables),
    today: variables.BURIN_TODAY,
  };
}
