/** What the life of a number does not allow. `part` is WHOLE for the piece as one whole. */
export const lifecycleMessages = {
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
    message: '{day} is in the future.',
    hint: 'Give the day on which it happened.',
  },
  'register.clock-too-early': {
    exit: 3,
    message: 'The clock of this machine is set to a day before {first}. Nothing was entered.',
    hint: 'Set the clock: burin is not so old.',
  },
  'register.clock-too-late': {
    exit: 3,
    message:
      'The clock of this machine says {day}, and a first entry after {bound} is asked about: later ones could not have an earlier time. Nothing was entered.',
    hint: 'Set the clock. If it is right, confirm the day: BURIN_TODAY={day}.',
  },
  'register.clock-ahead': {
    exit: 3,
    message:
      'The clock of this machine is more than a year ahead of the last entry, {last}. Nothing was entered: later entries could not have an earlier time.',
    hint: 'Set the clock. If it is right, confirm the day: BURIN_TODAY={day}.',
  },
  'register.clock-behind': {
    exit: 3,
    message:
      'The clock of this machine is more than a day behind the last entry, event {event} at {last}. Nothing was entered.',
    hint: 'Set the clock. If it is right, that entry was made under a wrong one: `burin resume` goes on past the first entry of that kind, and times begin anew.',
  },
  'register.clock-not-today': {
    exit: 3,
    message: 'The day confirmed is {today}, and the clock says {clock}. Nothing was entered.',
    hint: 'Set the clock, or confirm the right day as YYYY-MM-DD.',
  },
  'register.day-too-early': {
    exit: 3,
    message: '{day} is before {earliest}, when this number was {event}.',
    hint: 'Give the day on which it happened, as YYYY-MM-DD.',
  },
  'register.step-ahead': {
    exit: 3,
    message:
      'This number was {event} on {earliest}, says event {seq}, and that day is still to come: it was entered under a wrong clock.',
    hint: 'Correct its day first: `burin correct EDITION LABEL --event {seq} --on DAY`. Then ask again.',
  },
  'register.day-too-late': {
    exit: 3,
    message: '{day} is after {latest}, when this number was {event}.',
    hint: 'Give the day on which it happened, as YYYY-MM-DD.',
  },
  'register.not-entered': {
    exit: 3,
    message: 'The database did not keep what was entered. Nothing was entered.',
    hint: 'Run `burin audit`: something in the database drops or changes entries.',
  },
  'register.edition-moved-on': {
    exit: 3,
    message:
      'Others keep entering events of this edition, so a statement of it does not stay true long enough. Nothing was closed.',
    hint: 'Ask the others to stop, then close it.',
  },
  'register.closed-before': {
    exit: 3,
    message: 'The edition is closed already.',
    hint: 'Nothing is left to do.',
  },
  'register.number-void': {
    exit: 3,
    message: 'The number is void: nothing more can happen to it.',
    hint: 'Use another number.',
  },
  'register.number-withheld': {
    exit: 3,
    message: 'The number is withheld and cannot be {event}.',
    hint: 'Record it released first.',
  },
  'register.not-withheld': {
    exit: 3,
    message: 'The number is {state}, not withheld.',
    hint: 'There is nothing to release.',
  },
  'register.not-issued': {
    exit: 3,
    message: 'The number was not issued and cannot be {event}.',
    hint: 'Issue it first.',
  },
  'register.issued-before': {
    exit: 3,
    message: 'The number is issued already and cannot be issued twice.',
    hint: 'Take the next free number.',
  },
  'register.name-invisible': {
    exit: 2,
    message: 'The name has characters that change the direction of reading: {characters}.',
    hint: 'Type the name anew, without them. Nothing was entered.',
  },
  'register.own-witness': {
    exit: 3,
    message: 'The person who records an event cannot be its witness, however the name is written.',
    hint: 'Name with --witness a second person, who saw or confirms it. Two persons with one surname and the same initials write their names in full.',
  },
  'register.no-such-part': {
    exit: 3,
    message: 'No part {part} has this number.',
    hint: '{some, select, yes {The parts with the number: {parts}} other {It was issued for one whole piece: name no part}}.',
  },
  'register.part-not-blank': {
    exit: 3,
    message: '{part, select, WHOLE {The piece} other {Part {part}}} is {state} and cannot be engraved.',
    hint: '{state, select, engraved {For a second piece, record scrapped, destroyed and recut first} scrapped {Record it destroyed, with a witness, and recut first} other {Record it recut first}}.',
  },
  'register.piece-not-engraved': {
    exit: 3,
    message: 'The piece is {state} and cannot be inspected.',
    hint: '{some, select, yes {Record these parts engraved first: {blank}} other {A piece is inspected once, after it is engraved}}.',
  },
  'register.piece-not-inspected': {
    exit: 3,
    message: 'The piece is {state} and cannot be delivered.',
    hint: '{state, select, delivered {If it came back, record it returned, then inspect it again} engraved {Record it inspected first} scrapped {Record it destroyed, with a witness, first} destroyed {Record it recut first} other {Record it engraved first, then inspected}}.',
  },
  'register.too-late-to-withhold': {
    exit: 3,
    message: 'The number is {state} and cannot be withheld.',
    hint: 'Only a number that is not delivered can be withheld.',
  },
  'register.part-already-scrapped': {
    exit: 3,
    message: '{part, select, WHOLE {The piece} other {Part {part}}} is {state} already.',
    hint: 'Name the part that is spoiled.',
  },
  'register.part-not-scrapped': {
    exit: 3,
    message: '{part, select, WHOLE {The piece} other {Part {part}}} is {state}, not scrapped.',
    hint: 'Record it scrapped first, or name the part that was scrapped.',
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
  'register.number-missing': {
    exit: 3,
    message: 'The number is {state} and cannot be {event}.',
    hint: 'Once the piece is back in your hands, record it found first.',
  },
  'register.not-missing': {
    exit: 3,
    message: 'The number is {state}, neither lost nor stolen.',
    hint: 'There is nothing to find.',
  },
  'register.nothing-to-miss': {
    exit: 3,
    message: 'No piece has this number yet, so none can be {event}.',
    hint: 'Take another blank and go on.',
  },
  'register.piece-not-delivered': {
    exit: 3,
    message: 'The piece is {state}, not delivered.',
    hint: 'Only a delivered piece comes back.',
  },
  'register.no-such-event': {
    exit: 3,
    message: 'Event {event} is not of this number, was retracted, or does not say what is to be corrected.',
    hint: 'List its events with `burin register EDITION LABEL`. A buyer is corrected on a delivery.',
  },
  'register.says-so-already': {
    exit: 3,
    message: 'Event {event}, {type}, says so already: there is nothing to correct. Nothing was entered.',
    hint: 'A correction would withdraw the certificates that show it. Compare it with `burin register EDITION LABEL`.',
  },
  'register.not-last-event': {
    exit: 3,
    message:
      '{type, select, planned {The number has no event left to retract} issued {The number is issued, and that cannot be retracted} other {Event {event} is not the last event of the number that is still valid; that is event {last}, {type}}}.',
    hint: '{type, select, planned {There is nothing to retract} issued {Record it void if it is to be on no piece} other {Retract the last one first}}.',
  },
  'register.no-second-person': {
    exit: 3,
    message: 'A second person must confirm this: the piece has left the maker, or the event is final.',
    hint: 'Name that person with --witness.',
  },
  'register.not-certifiable': {
    exit: 3,
    message: 'The piece is {state}: not every part has the number.',
    hint: 'Record each part engraved first.',
  },
  'register.wrong-serial': {
    exit: 3,
    message: 'This is no serial for a certificate now: the next is number {next}.',
    hint: 'If another was made meanwhile, make it again.',
  },
} as const;
