import { defineMessages } from '../problem.js';

/** Problems of opening, checking and making a workshop. */
export const { table, problem, refuse } = defineMessages({
  'workshop.setting-empty': {
    exit: 2,
    message: 'It is set but empty.',
    hint: 'Give it a value, or unset it.',
  },
  'workshop.register-setting-empty': {
    exit: 2,
    message: 'It is set but empty, so it names no register.',
    hint: 'Set it to the URL of the register, or unset it.',
  },
  'workshop.register-not-readable': {
    exit: 2,
    message: 'It names a register, but cannot be read.',
    hint: 'Mend it, or give the URL of the register in BURIN_REGISTER.',
  },
  'workshop.unknown-name': {
    exit: 2,
    message: 'There is no {noun} of this name in the workshop.',
    hint: 'Use one of these: {known}.',
  },
  'workshop.none-of-kind': {
    exit: 2,
    message: 'There is no {noun} in the workshop yet.',
    hint: 'Add a document to {folder}/.',
  },
  'workshop.template-unknown': {
    exit: 2,
    message: 'There is no such template.',
    hint: 'Use one of these: {known}.',
  },
  'workshop.folder-is-file': {
    exit: 2,
    message: 'This is a file.',
    hint: 'Name a folder that does not exist yet.',
  },
  'workshop.folder-not-empty': {
    exit: 2,
    message: 'This folder is not empty.',
    hint: 'Name a new folder, or an empty one.',
  },
  'workshop.demo-reads-back-wrong': {
    exit: 1,
    message: 'This program does not read back as the layout says.',
    hint: 'Do not run it, and report this.',
  },
});
