import { defineMessages } from '../problem.js';

/** Problems of the words given to a command. */
export const { table, problem, refuse } = defineMessages({
  'cli.no-command': {
    exit: 2,
    message: 'No command is named.',
    hint: '`{command} --help` lists the commands.',
  },
  'cli.usage': {
    exit: 2,
    message: '{slip}',
    hint: '`{command} --help` shows what it takes.',
  },
  'cli.empty-word': {
    exit: 2,
    message: '{name} is empty.',
    hint: 'Give it a value, or leave it out.',
  },
  'cli.stdout-failed': {
    exit: 2,
    message: 'The answer cannot be written ({error}).',
    hint: 'Check where the output goes.',
  },
  'cli.one-form': {
    exit: 2,
    message: 'Give one of the two forms, --csv or --jsonl.',
    hint: 'Choose --csv for people, --jsonl for `burin restore`.',
  },
  'cli.json-needs-file': {
    exit: 2,
    message: '--json answers about a file, but no file is named.',
    hint: 'Give --out, or leave --json out.',
  },
  'cli.list-and-labels': {
    exit: 2,
    message: 'Labels and a list are both given.',
    hint: 'With --list give at most the event, for the rows that name none.',
  },
  'cli.one-number-or-list': {
    exit: 2,
    message: 'A number is named together with options that choose a list.',
    hint: 'Leave out the label or the options.',
  },
  'cli.one-picture': {
    exit: 2,
    message: 'This draws one program, and several are named.',
    hint: 'Name one program.',
  },
  'cli.fault': {
    exit: 2,
    message: 'This is a fault of burin itself.',
    hint: 'Please report it, with the lines above.',
  },
});
