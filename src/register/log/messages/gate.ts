const PUT_BACK =
  'Enter and cut nothing. Put the newest register back; if it is lost, `burin restore` goes on without it (docs/gate.md).';

/** A register that is not the one this machine saw, or not all of it. */
export const gateMessages = {
  'log.register-empty': {
    exit: 3,
    message:
      'This register is empty, but the key of this name signed {signed, plural, one {# event} other {# events}} on this machine.',
    hint: 'For a new workshop, give it a name of its own in workshop.yaml. If its register is lost, enter and cut nothing: see docs/log.md, Recovery.',
  },
  'log.register-behind': {
    exit: 3,
    message:
      'This register has {size, plural, one {# event} other {# events}}, but its key signed {signed, plural, one {# event} other {# events}} on this machine: it is an old copy or another register.',
    hint: 'Enter and cut nothing. Put the newest register back; docs/log.md, Recovery, says what to do if it is lost.',
  },
  'log.register-other': {
    exit: 3,
    message:
      'The first {signed, plural, one {event is not the one} other {# events are not those}} that the key of this log signed on this machine: it is another register, or it was altered.',
    hint: 'Enter and cut nothing. Put the right register back; docs/log.md, Recovery, says what to do if it is lost.',
  },
  // what this machine saw
  'log.seen-empty': {
    exit: 3,
    message:
      'This register is empty or missing, but this machine saw {seen, plural, one {# event} other {# events}} of this workshop in {place}.',
    hint: `${PUT_BACK} For a new workshop, take a new folder without workshop.id, and give it a name of its own in workshop.yaml.`,
  },
  'log.seen-shorter': {
    exit: 3,
    message:
      'This register has {size, plural, one {# event} other {# events}}, but this machine saw {seen} of this workshop in {place}: it is an old copy, or events were deleted.',
    hint: PUT_BACK,
  },
  'log.seen-other': {
    exit: 3,
    message:
      'This is not the register of which this machine saw {seen, plural, one {# event} other {# events}} in {place}: it is another one, or an old copy that was used since.',
    hint: PUT_BACK,
  },
  'log.proved-missing': {
    exit: 3,
    message:
      'This register has {size, plural, one {# event} other {# events}}, but papers given to `burin restore` prove {proved}.',
    hint: PUT_BACK,
  },
  'log.seen-unreadable': {
    exit: 3,
    message: 'It should hold what this machine last saw of a register, but cannot be read.',
    hint: 'Put it back from a copy of the folder of keys. Where there is none, move it aside, and before anything is entered give exports, certificates and checkpoints kept elsewhere to `burin restore --dry-run`, which says what this register lacks. An audit alone cannot see that a register is an old copy.',
  },
} as const;
