import { defineMessages } from '../problem.js';

/** The words of the register's problems. Those of log, audit and certificates stand in their own folders. */
export const { table, problem, refuse } = defineMessages({
  // Requests.
  'register.malformed-event': {
    exit: 2,
    message: 'It cannot be entered: {faults}.',
    hint: 'Correct the request or the edition.',
  },
  'register.malformed-request': { exit: 2, message: '{fault}.', hint: 'Correct it and ask again.' },
  'register.no-witness': {
    exit: 2,
    message: 'No witness of the destruction is named.',
    hint: 'Name who saw it: someone other than the one who records it.',
  },
  'register.nothing-planned': {
    exit: 2,
    message: 'No number of this series is planned.',
    hint: 'Name a series of the edition.',
  },
  'register.plan-not-ascending': {
    exit: 2,
    message: 'The planned numbers do not ascend.',
    hint: 'Give each number once, lowest first.',
  },
  'register.too-few-free': {
    exit: 3,
    message: '{count} asked for, {free, plural, =0 {none left} other {only # left}}; nothing was issued.',
    hint: '{free, plural, =0 {All that is planned is issued, withheld or void} other {Ask for # or fewer}}.',
  },
  'register.key-reused': {
    exit: 3,
    message: 'The key {key} was used for another request.',
    hint: 'Ask with a new key, or repeat that request exactly.',
  },
  'register.import-refused': {
    exit: 3,
    message: '{place}: {fault} Nothing was brought in.',
    hint: 'Correct event {row}, then import all of them again.',
  },

  // The life of a number. `part` is WHOLE for the piece as one whole.
  'register.number-mismatch': {
    exit: 3,
    message:
      'Number {number} of series {series} was asked for, but the register knows {knownLabel} as number {knownNumber} of series {knownSeries}.',
    hint: 'Name the number as the register lists it.',
  },
  'register.edition-closed': {
    exit: 3,
    message: 'Edition {edition} is closed, and the number was not issued in it.',
    hint: 'Only numbers issued before the closing have further events.',
  },
  'register.closed-to-issue': {
    exit: 3,
    message: 'The edition is closed: nothing more is issued.',
    hint: 'Issue in another edition.',
  },
  'register.day-to-come': {
    exit: 3,
    message: '{day} is still to come.',
    hint: 'Give the day on which it happened.',
  },
  'register.day-too-early': {
    exit: 3,
    message: '{day} is before {earliest}, when this number was {event}.',
    hint: 'Give the day on which it happened, as YYYY-MM-DD.',
  },
  'register.not-entered': {
    exit: 3,
    message: 'The database did not keep what was entered.',
    hint: 'Nothing was entered. Something in the database swallows or changes entries: see `burin audit --store`.',
  },
  'register.edition-moved-on': {
    exit: 3,
    message:
      'Others keep entering numbers of this edition, so that no statement of it agrees with the register.',
    hint: 'Nothing was closed. Ask the others to stop, then close it.',
  },
  'register.closed-before': {
    exit: 3,
    message: 'It was closed before.',
    hint: 'An edition is closed once; nothing is left to do.',
  },
  'register.number-void': {
    exit: 3,
    message: 'It is void: nothing more can happen to it.',
    hint: 'Use another number.',
  },
  'register.number-withheld': {
    exit: 3,
    message: 'It is withheld and cannot be {event}.',
    hint: 'Record it released first.',
  },
  'register.not-withheld': {
    exit: 3,
    message: 'It is {state}, not withheld.',
    hint: 'There is nothing to release.',
  },
  'register.not-issued': {
    exit: 3,
    message: 'It was not issued and cannot be {event}.',
    hint: 'Issue it first.',
  },
  'register.issued-before': {
    exit: 3,
    message: 'It cannot be issued twice.',
    hint: 'Take the next free number.',
  },
  'register.own-witness': {
    exit: 3,
    message: 'The person who records a destruction cannot be its witness.',
    hint: 'Have a second person watch and name them as witness.',
  },
  'register.no-such-part': {
    exit: 3,
    message: 'No part {part} carries its number.',
    hint: '{some, select, yes {It is carried by: {parts}} other {It was issued for one whole piece: name no part}}.',
  },
  'register.part-not-blank': {
    exit: 3,
    message: '{part, select, WHOLE {The piece} other {Part {part}}} is {state} and cannot be engraved.',
    hint: '{state, select, engraved {For a second piece, record scrapped, destroyed and recut first} scrapped {Record it destroyed, with a witness, and recut first} other {Record it recut first}}.',
  },
  'register.piece-not-engraved': {
    exit: 3,
    message: 'It is {state} and cannot be inspected.',
    hint: '{some, select, yes {Record it engraved first; still blank: {blank}} other {Inspect an engraved piece, once}}.',
  },
  'register.piece-not-inspected': {
    exit: 3,
    message: 'It is {state} and cannot be delivered.',
    hint: '{state, select, delivered {A returned piece stays delivered until it is scrapped} other {Record it inspected first}}.',
  },
  'register.too-late-to-withhold': {
    exit: 3,
    message: 'It is {state} and cannot be withheld.',
    hint: 'Only what is still to be delivered is withheld.',
  },
  'register.part-already-scrapped': {
    exit: 3,
    message: '{part, select, WHOLE {The piece} other {Part {part}}} is {state} already.',
    hint: 'Name the part that is spoiled.',
  },
  'register.part-not-scrapped': {
    exit: 3,
    message: '{part, select, WHOLE {The piece} other {Part {part}}} is {state}, not scrapped.',
    hint: 'Record it scrapped first, or name the part that was.',
  },
  'register.part-not-destroyed': {
    exit: 3,
    message:
      '{part, select, WHOLE {The piece} other {Part {part}}} is {state}, not destroyed: the number would be on two pieces.',
    hint: '{state, select, scrapped {Record it destroyed, with a witness, first} other {Record it scrapped, then destroyed with a witness, first}}.',
  },
  'register.number-on-piece': {
    exit: 3,
    message: '{part, select, WHOLE {The piece} other {Part {part}}} is {state}: a part still has the number.',
    hint: '{state, select, engraved {Record it scrapped, then destroyed, with a witness, first} other {Record it destroyed, with a witness, first}}.',
  },

  // What is stored.
  'register.impossible-history': {
    exit: 3,
    message: '{fault} So the register holds what cannot have happened.',
    hint: 'Issue nothing; compare the register with your last good copy.',
  },
  'register.damaged-event': {
    exit: 3,
    message:
      '{fault, select, hash {Its text does not fit its hash} canonical {Its text is not canonical JSON} other {It is of no kind this program knows}}.',
    hint: 'Issue nothing; compare the register with your last good copy.',
  },
  'register.event-out-of-sequence': {
    exit: 3,
    message: 'Event {expected} was expected here; nothing was restored.',
    hint: 'Give every event of the other register, in sequence.',
  },
  'register.not-empty': {
    exit: 3,
    message: 'It has events of its own; nothing was restored.',
    hint: 'Restore into a workshop without a register, or into an empty database.',
  },
  'register.checkpoint-exists': {
    exit: 3,
    message: 'Another checkpoint of this size was stored before.',
    hint: 'Keep the first; sign again once there are more events.',
  },
  'register.rolled-back': {
    exit: 3,
    message: 'Event {seq}, which this program has seen, is missing or is another one now.',
    hint: 'Issue nothing; the register was replaced, or went back to an older state.',
  },
  'register.entry-refused': {
    exit: 3,
    message: 'The register refuses the entry: {reason}.',
    hint: 'Nothing was written; look at what was issued.',
  },

  // The store.
  'register.store-closed': { exit: 2, message: 'The register was closed.', hint: 'Open it again.' },
  'register.no-backup': {
    exit: 2,
    message: 'A register on a server is not copied from here.',
    hint: "Have the server's own copies taken, and try that they come back.",
  },
  'register.newer-form': {
    exit: 3,
    message: 'The register is of form {form}; this program knows forms up to {known}.',
    hint: 'Use the newer program that wrote it.',
  },
  'register.busy': {
    exit: 2,
    message: 'Another program has kept the register busy for {seconds} s; nothing was written.',
    hint: 'Let it finish or close it, then ask again.',
  },
  'register.nothing-to-move': {
    exit: 2,
    message: 'There is no register to move.',
    hint: 'Name the workshop that has it.',
  },
  'register.nothing-to-copy': {
    exit: 2,
    message: 'There is no register to copy yet.',
    hint: 'Name the workshop that has it.',
  },
  'register.moved': {
    exit: 3,
    message: 'The register was moved to {register}; this file must not be used any more.',
    hint: 'Name that server in workshop.yaml (`register: postgres://host/database`) or in BURIN_REGISTER.',
  },
  'register.damaged': {
    exit: 3,
    message: 'The register is damaged ({reason}).',
    hint: 'Issue nothing; bring back your last good copy.',
  },

  'register.copy-shorter': {
    exit: 3,
    message:
      'It has {events, plural, one {the first event} other {the first # events}} only; the register stays where it is.',
    hint: 'Name an empty database.',
  },
  'register.copy-differs': {
    exit: 3,
    message: 'Its event {seq} is another; the register stays where it is.',
    hint: 'Name an empty database.',
  },
  'register.copy-lacks-checkpoint': {
    exit: 3,
    message:
      'Its checkpoint of {size, plural, one {# event} other {# events}} differs; the register stays where it is.',
    hint: 'Name an empty database.',
  },

  // SQLite.
  'register.file-gone': {
    exit: 3,
    message: 'The register is gone, but {companion} is still there.',
    hint: 'Put the register file back, or restore a copy; a new one would issue every number again.',
  },
  'register.folder-missing': {
    exit: 2,
    message: 'The folder of the register is missing.',
    hint: 'Name the folder of a workshop.',
  },
  'register.no-write-ahead-log': {
    exit: 2,
    message: 'This disk cannot keep a register.',
    hint: 'Keep the workshop on a disk of this machine.',
  },
  'register.file-replaced': {
    exit: 3,
    message: 'The register was moved or replaced while this program had it open.',
    hint: 'Put the right file in its place and start the program again.',
  },
  'register.other-database': {
    exit: 3,
    message: 'This is a database, but not a register.',
    hint: 'Name the register of the workshop.',
  },
  'register.not-a-database': {
    exit: 3,
    message: 'This is not a register.',
    hint: 'Name the register of the workshop, or bring back a copy.',
  },
  'register.disk-full': {
    exit: 2,
    message: 'The disk is full; nothing was issued.',
    hint: 'Free some space, then ask again with the same key.',
  },
  'register.file-not-writable': {
    exit: 2,
    message: 'The register cannot be opened for writing.',
    hint: 'Check the path, its owner and permissions.',
  },
  'register.file-not-readable': {
    exit: 2,
    message: 'The register cannot be read ({reason}).',
    hint: 'Check the path and permissions.',
  },
  'register.disk-failed': {
    exit: 2,
    message: 'The disk did not answer ({reason}).',
    hint: 'See to the disk, then ask again with the same key.',
  },
  'register.copy-exists': {
    exit: 2,
    message: 'There is a file already; a copy is never written over.',
    hint: 'Give the copy a new name.',
  },
  'register.copy-folder-missing': {
    exit: 2,
    message: 'Its folder is missing.',
    hint: 'Make the folder, or name another.',
  },
  'register.copy-unsound': {
    exit: 3,
    message: 'The copy is not sound ({reason}).',
    hint: 'Issue nothing; look at the register itself.',
  },

  // PostgreSQL.
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

  // Faults of the store itself, found by an audit.
  'register.store-object-foreign': {
    exit: 1,
    message: 'The {object} is no part of the register.',
    hint: 'Find out who made it, and have it removed.',
  },
  'register.store-object-altered': {
    exit: 1,
    message: 'The {object} was altered.',
    hint: 'Issue nothing; compare the register with your last good copy.',
  },
  'register.store-object-missing': {
    exit: 1,
    message: 'The {object} is missing.',
    hint: 'Issue nothing; compare the register with your last good copy.',
  },
  'register.store-trigger-off': {
    exit: 1,
    message: 'The {object} does not fire always.',
    hint: 'Have the owner of the register enable it again, and find out who turned it off.',
  },
  'register.store-integrity': {
    exit: 1,
    message: 'The database finds: {finding}.',
    hint: 'Issue nothing; bring back your last good copy.',
  },
  'register.store-triggers-rest': {
    exit: 1,
    message: 'Ordinary triggers rest in sessions of this user (session_replication_role is {role}).',
    hint: 'Have the setting taken back at the server.',
  },
  'register.store-index-differs': {
    exit: 1,
    message: 'The {object} does not hold what its table holds.',
    hint: 'Have the index rebuilt, then audit again.',
  },
  'register.store-column-differs': {
    exit: 1,
    message: 'The computed columns of event {seq} are not what its text says.',
    hint: 'Issue nothing; bring back your last good copy.',
  },
});
