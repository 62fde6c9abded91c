/** Parts and stations whose values do not agree with one another. */
export const partMessages = {
  'documents.name-close': {
    exit: 2,
    message: '{holder, select, part {This part has} other {There is}} no {noun} `{name}`.',
    hint: 'Did you mean `{close}`?',
  },
  'documents.name-unknown': {
    exit: 2,
    message: '{holder, select, part {This part has} other {There is}} no {noun} `{name}`.',
    hint: 'Use one of these: {known}.',
  },
  'documents.name-none': {
    exit: 2,
    message:
      '{holder, select, part {This part has} other {There is}} no {noun} `{name}`, and no other either.',
    hint: 'Add one to {holder, select, part {the part} other {the workshop}} first.',
  },
  'documents.id-twice': {
    exit: 2,
    message: 'An earlier entry has the id `{id}`.',
    hint: 'Give each entry an id of its own.',
  },
  'documents.before-part': {
    exit: 2,
    message: 'z {z, number, mm} is before the start of the part (z {first, number, mm}).',
    hint: 'Give a z inside the part.',
  },
  'documents.past-part': {
    exit: 2,
    message: 'z {z, number, mm} is past the end of the part (z {last, number, mm}).',
    hint: 'Give a z inside the part.',
  },
  'documents.range-reversed': {
    exit: 2,
    message: '`to` ({to, number, mm}) is not past `from` ({from, number, mm}).',
    hint: 'Give the lower z as `from`.',
  },
  'documents.profile-falls': {
    exit: 2,
    message: 'z {z, number, mm} is not past the point before it (z {before, number, mm}).',
    hint: 'Give the points of the profile in order, from the datum end on.',
  },
  'documents.profile-bends': {
    exit: 2,
    message:
      'The profile is not straight from z {from, number, mm} to {to, number, mm}: it bends at z {z, number, mm}.',
    hint: 'Make two surfaces that meet at the bend.',
  },
  'documents.surface-steep': {
    exit: 2,
    message: 'The surface is a cone at {angle, number, deg} degrees to the axis, which is nearly flat.',
    hint: 'Choose a stretch at {most} degrees or less.',
  },
  'documents.surface-clearance': {
    exit: 2,
    message:
      'A clearance of {clearance, number, mm} mm at both edges leaves nothing of the {length, number, mm} mm of the surface.',
    hint: 'Give less clearance.',
  },
  'documents.surfaces-overlap': {
    exit: 2,
    message: 'The surface begins at z {from, number, mm}, before `{id}` ends (z {to, number, mm}).',
    hint: 'Let surfaces meet, not overlap.',
  },
  'documents.wall-solid': {
    exit: 2,
    message:
      'A wall of {wall, number, mm} mm fills the part, whose radius is only {radius, number, mm} mm in places.',
    hint: 'Give the thickness of the wall. It must be less than the radius.',
  },
  'documents.clip-too-wide': {
    exit: 2,
    message:
      'A clip {width, number, mm} mm wide goes all round the part, which measures {ring, number, mm} mm round.',
    hint: 'Give the width across the clip, or make the clip a band.',
  },
  'documents.outline-jumps': {
    exit: 2,
    message: 'The outline jumps half a turn or more to this corner ({angle, number, deg} degrees).',
    hint: 'Let angles run on across the seam, such as 350 to 370, or add corners between.',
  },
  'documents.outline-all-round': {
    exit: 2,
    message: 'The outline spans {span, number, deg} degrees, a whole turn or more.',
    hint: 'Make it a band, or a window of less than a whole turn.',
  },
  'documents.outline-repeats': {
    exit: 2,
    message: 'This corner of the outline repeats the corner before it.',
    hint: 'Remove one of the two.',
  },
  'documents.outline-folds': {
    exit: 2,
    message: 'The outline folds back on itself at this corner.',
    hint: 'Give the corners in order, once round the window.',
  },
  'documents.outline-crosses': {
    exit: 2,
    message: 'The side that begins at this corner crosses or touches another side of the outline.',
    hint: 'Give the corners in order, once round the window.',
  },
  'documents.travel-reversed': {
    exit: 2,
    message: '`max` ({max, number, mm}) is not above `min` ({min, number, mm}).',
    hint: 'Give the lower end of the travel as `min`.',
  },
  'documents.travel-half': {
    exit: 2,
    message: '`{given}` is given without `{absent}`.',
    hint: 'Give both, or neither for an axis that turns without end.',
  },
  'documents.station-word': {
    exit: 2,
    message: 'No program with the word `{word}` can be proved.',
    hint: 'Remove it. `docs/programs.md` lists the words that are allowed.',
  },
  'documents.station-long-number': {
    exit: 2,
    message: 'The number in `{word}` is longer than a program may hold.',
    hint: 'Give at most 12 digits before the point and 15 after it.',
  },
  'documents.station-same-group': {
    exit: 2,
    message:
      '`{other}` and `{word}` may not stand on one line: a control takes only one word of their group from a line.',
    hint: 'Write each on a line of its own, or remove one.',
  },
  'documents.station-dwell-without-time': {
    exit: 2,
    message: '`{word}` waits, but nothing on its line says how long.',
    hint: 'Give the time with it, such as `G4 P5`.',
  },
  'documents.station-time-without-dwell': {
    exit: 2,
    message: '`{word}` is how long to wait, but nothing on its line waits.',
    hint: 'Write `G4 {word}`, or remove it.',
  },
  'documents.station-spindle-after': {
    exit: 2,
    message: '`{word}` would start the spindle after the last cut, and nothing would stop it.',
    hint: 'Remove it.',
  },
  'documents.station-zero-after': {
    exit: 2,
    message: '`{word}` would shift zero after the moves of the program. No program with it can be proved.',
    hint: 'Remove it, or move it to `before`.',
  },
  'documents.station-speed-taken-away': {
    exit: 2,
    message: '`{word}` sets the speed to 0 while the spindle turns.',
    hint: 'Write `M5` where the spindle is to stop, or remove it.',
  },
  'documents.spindle-without-speed': {
    exit: 2,
    message: 'This line starts the spindle, but no speed is set.',
    hint: 'Give a speed above 0 with it, such as `M3 S12000`, or in a line before it.',
  },
  'documents.tilted-on-axis': {
    exit: 2,
    message: 'On a tilted set-up, the axis of the part has no single height that could be Z 0.',
    hint: 'Write `zero: touch`.',
  },
  'documents.safe-below-approach': {
    exit: 2,
    message: '`safe` ({safe, number, mm}) is not above `approach` ({approach, number, mm}).',
    hint: 'Give a `safe` above `approach`, the height from which the cutter feeds down.',
  },
  'documents.register-url': {
    exit: 2,
    message: 'This is not the URL of a PostgreSQL database.',
    hint: 'Write `postgres://host/database`.',
  },
  'documents.register-url-percent': {
    exit: 2,
    message: 'This URL has a broken `%` in it.',
    hint: 'Write `postgres://host/database`.',
  },
  'documents.register-url-password': {
    exit: 2,
    message: 'This URL has a password in it.',
    hint: 'Keep the password in the environment (BURIN_REGISTER, PGPASSWORD) or in a .pgpass file.',
  },
  'documents.register-url-host': {
    exit: 2,
    message: 'This URL names no host.',
    hint: 'Write `postgres://host/database`.',
  },
  'documents.register-url-database': {
    exit: 2,
    message: 'This URL names no database.',
    hint: 'Write `postgres://host/database`.',
  },
  'documents.register-url-rest': {
    exit: 2,
    message: 'burin does not know what follows the database in this URL.',
    hint: 'Remove it. Only {known} may follow the database.',
  },
} as const;
