/** Public keys, private keys and where they are kept. */
export const keyMessages = {
  // public keys (C2SP signed-note)
  'log.key-not-readable': {
    exit: 2,
    message: 'It is not the public key of a log.',
    hint: "Give the maker's public key as `burin key show` prints it.",
  },
  'log.key-not-ed25519': {
    exit: 2,
    message: 'It is not an Ed25519 key.',
    hint: "Give the maker's public key as `burin key show` prints it.",
  },
  'log.key-wrong-length': {
    exit: 2,
    message: 'Its length is not that of an Ed25519 key.',
    hint: "Give the maker's public key as `burin key show` prints it.",
  },
  'log.key-hash-differs': {
    exit: 2,
    message: 'Its hash does not match its name and key: it was copied wrongly or altered.',
    hint: "Give the maker's public key as `burin key show` prints it.",
  },
  // histories of keys
  'log.key-ended': {
    exit: 3,
    message:
      'The key that signed it counts up to {last, plural, one {# event} other {# events}}{reason, select, lost { (it was lost)} stolen { (it was stolen)} other { (it was replaced)}}, and this is for {size}.',
    hint: 'Its signature is worth nothing here: rely only on a date by which someone else held it, and ask the maker.',
  },
  'log.key-not-begun': {
    exit: 3,
    message:
      'The key that signed it begins at {first, plural, one {# event} other {# events}}, and this is for {size}.',
    hint: 'Ask the maker; no honest use of the key makes such a note.',
  },
  // keys
  'log.name-not-of-burin': {
    exit: 2,
    message: 'burin makes no keys for a log of this name.',
    hint: 'Sign it with the program that signed it before.',
  },
  'log.keys-in-workshop': {
    exit: 2,
    message: 'The folder of keys is inside the workshop, which others can copy and read.',
    hint: 'Set BURIN_KEYS to a folder elsewhere.',
  },
  'log.key-exists': {
    exit: 3,
    message: 'There is a key of {origin} already.',
    hint: 'Use it, or retire it first with `burin key retire`.',
  },
  'log.not-a-file': {
    exit: 3,
    message: 'It is not a file.',
    hint: 'Put the file back from your copy.',
  },
  'log.private-key-unreadable': {
    exit: 3,
    message: 'It holds no private key that can be read.',
    hint: 'Restore it from your copy of the key.',
  },
  'log.private-key-not-ed25519': {
    exit: 3,
    message: 'It holds no Ed25519 key.',
    hint: 'Restore it from your copy of the key.',
  },
  'log.key-open-to-others': {
    exit: 3,
    message: 'Other users of this machine can read or change the key.',
    hint: 'Run `chmod {mode}` on it. If someone may have read it, make a new key.',
  },
  'log.last-signed-wrong': {
    exit: 3,
    message: '{reason} The file should hold the last checkpoint that this key signed.',
    hint: 'If the key is new, retire the old one with `burin key retire`, or move this file to where the old key is. Otherwise audit the register first.',
  },
} as const;
