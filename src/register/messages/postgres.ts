/** What keeps a register on a server from being used. */
export const postgresMessages = {
  'register.not-keeper': {
    exit: 3,
    message:
      'Only a keeper changes the terms of an edition, closes it, enters a certificate or a loss, or goes on past an entry. Nothing was entered.',
    hint: 'Ask somebody whose user is a member of the role burin_keeper.',
  },
  'register.old-server': {
    exit: 2,
    message: 'The version of the server, {version}, is too old.',
    hint: 'Use {oldest} or later.',
  },
  'register.standby': {
    exit: 2,
    message: 'This server is a standby, which may lag behind its primary.',
    hint: 'Name the primary server.',
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
    message: 'The schema {schema} of this database holds something other than a register.',
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
  'register.password-unsafe': {
    exit: 2,
    message: 'The server asks for the password in plain text, or for its MD5 hash. burin did not give it.',
    hint: 'Have the server set to scram-sha-256 (password_encryption and pg_hba.conf), and the password set anew.',
  },
  'register.no-tls': {
    exit: 2,
    message:
      'No encrypted connection could be made: {error, select, none {the server refused it or broke off} CERT_HAS_EXPIRED {the certificate of the server has expired} ERR_TLS_CERT_ALTNAME_INVALID {the certificate of the server is for another host} DEPTH_ZERO_SELF_SIGNED_CERT {the server signed its certificate itself} SELF_SIGNED_CERT_IN_CHAIN {the authority of its certificate is not known here} UNABLE_TO_VERIFY_LEAF_SIGNATURE {the authority of its certificate is not known here} other {error {error}}}.',
    hint: 'Have the server use TLS with a certificate for its host name. In the URL, sslrootcert names the file of its authority, and sslmode may ask for less.',
  },
  'register.authentication-failed': {
    exit: 2,
    message: 'burin and the server have no method of authentication in common.',
    hint: 'Check the password, and which methods the server allows.',
  },
  'register.user-refused': {
    exit: 2,
    message: 'The server does not let this user in.',
    hint: 'Check the user and password in the environment (BURIN_REGISTER, PGUSER, PGPASSWORD) or the .pgpass file.',
  },
  'register.connection-failed': {
    exit: 2,
    message:
      '{error, select, ECONNREFUSED {No server listens at this address} ETIMEDOUT {The server does not answer} ECONNRESET {The connection was broken off} EHOSTUNREACH {The host cannot be reached} ENETUNREACH {The host cannot be reached} other {The connection failed (error {error})}}.',
    hint: 'Check the server, its address and the network.',
  },
  'register.no-such-database': {
    exit: 2,
    message: 'The server has no such database.',
    hint: 'Create an empty one, or correct the name.',
  },
  'register.not-permitted': {
    exit: 2,
    message: 'The user lacks a right in the database.',
    hint: 'Have the owner of the register run `burin roles`, and make this user a member of one of the roles.',
  },
  'register.read-only-server': {
    exit: 2,
    message: 'The server is read-only.',
    hint: 'Name the server that takes entries.',
  },
  'register.server-full': {
    exit: 2,
    message: 'The disk of the server is full. Nothing was entered.',
    hint: 'Free some space, then ask again.',
  },
  'register.server-failed': {
    exit: 2,
    message: 'The server reports the error {error}.',
    hint: 'Look it up in the log of the server, then ask again.',
  },
  'register.no-connection-free': {
    exit: 2,
    message: 'The server has had no free connection for {seconds} s. Nothing was written.',
    hint: 'Close other programs or allow more connections, then ask again.',
  },
  'register.no-answer': {
    exit: 2,
    message: 'The server has not answered for {seconds} s. Nothing was written.',
    hint: 'Check the server and the network, then ask again.',
  },
  'register.answer-lost': {
    exit: 2,
    message: 'The connection was lost before the answer came.',
    hint: 'Ask again with the same key.',
  },
  'register.outcome-unknown': {
    exit: 2,
    message: 'The connection was lost before the answer came. The entry may or may not have been made.',
    hint: 'Check the register before you ask again. With a key, asking again is always safe.',
  },
  'register.restore-interrupted': {
    exit: 2,
    message: 'The connection was lost. Nothing was restored.',
    hint: 'Begin again.',
  },
} as const;
