/** What keeps a register on a server from being used. */
export const postgresMessages = {
  'register.old-server': {
    exit: 2,
    message: 'The server is of version {version}.',
    hint: 'Use {oldest} or later.',
  },
  'register.standby': {
    exit: 2,
    message: 'This server is a copy that follows another and may lag.',
    hint: 'Name the one it follows.',
  },
  'register.wrong-encoding': {
    exit: 2,
    message: 'The database stores text as {encoding}, which cannot hold all names.',
    hint: 'Make the database with the encoding UTF8.',
  },
  'register.no-fsync': {
    exit: 2,
    message: 'The server does not wait for its disk: what was acknowledged could be lost.',
    hint: 'Turn fsync on at the server.',
  },
  'register.other-schema': {
    exit: 3,
    message: 'Its schema {schema} holds something, but not a register.',
    hint: 'Name the database of the register, or an empty one.',
  },
  'register.no-such-host': {
    exit: 2,
    message: 'There is no such host.',
    hint: 'Correct the name of the host.',
  },
  'register.password-missing': {
    exit: 2,
    message: 'The server needs a password, and none was given.',
    hint: 'Give it in the environment (BURIN_REGISTER, PGPASSWORD) or in a .pgpass file.',
  },
  'register.no-tls': {
    exit: 2,
    message: 'No secret connection could be agreed on ({reason}).',
    hint: 'Look at sslmode and the certificate of the server.',
  },
  'register.authentication-failed': {
    exit: 2,
    message: 'The server does not prove itself or us in a way both know.',
    hint: 'Look at the password.',
  },
  'register.user-refused': {
    exit: 2,
    message: 'The server does not let this user in.',
    hint: 'Look at user and password: in the environment (BURIN_REGISTER, PGUSER, PGPASSWORD) or a .pgpass file.',
  },
  'register.connection-failed': {
    exit: 2,
    message: 'The connection failed ({reason}).',
    hint: 'See to the network.',
  },
  'register.no-such-database': {
    exit: 2,
    message: 'The server has no such database.',
    hint: 'Make it empty, or correct its name.',
  },
  'register.not-permitted': {
    exit: 2,
    message: 'This user may not do what is needed ({reason}).',
    hint: 'Let the owner of the register use it first, and allow this user to select and insert.',
  },
  'register.read-only-server': {
    exit: 2,
    message: 'The server takes no entries (it is read-only).',
    hint: 'Name the server that does.',
  },
  'register.server-full': {
    exit: 2,
    message: 'The server is out of disk space; nothing was issued.',
    hint: 'Free some space, then ask again.',
  },
  'register.server-failed': {
    exit: 2,
    message: 'The server could not do it ({reason}).',
    hint: 'See to the server, then ask again.',
  },
  'register.no-connection-free': {
    exit: 2,
    message: 'The server has had no connection free for {seconds} s; nothing was written.',
    hint: 'Close other programs or allow more connections, then ask again.',
  },
  'register.no-answer': {
    exit: 2,
    message: 'The server did not answer for {seconds} s; nothing was written.',
    hint: 'See to the server and the network, then ask again.',
  },
  'register.answer-lost': { exit: 2, message: 'The answer was lost.', hint: 'Ask again with the same key.' },
  'register.outcome-unknown': {
    exit: 2,
    message: 'The answer was lost; whether it was entered is not known.',
    hint: 'Look at the register before asking again; with a key, asking again is always safe.',
  },
  'register.restore-interrupted': {
    exit: 2,
    message: 'The connection was lost; nothing was restored.',
    hint: 'Begin again.',
  },
} as const;
