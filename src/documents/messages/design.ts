/** Designs and editions whose values do not agree with one another, or with the part and the cutter. */
export const designMessages = {
  'documents.too-deep-for-cutter': {
    exit: 2,
    message: '{depth, number, mm} mm is deeper than `{cutter}` can cut ({most, number, mm} mm).',
    hint: 'Give less depth, or another cutter.',
  },
  'documents.line-too-wide': {
    exit: 2,
    message:
      'The line is {width, number, mm} mm wide at this depth, more than half the height of the letters ({letter, number, mm} mm).',
    hint: 'Give less depth, a narrower cutter or larger letters.',
  },
  'documents.too-deep-for-wall': {
    exit: 2,
    message: '{depth, number, mm} mm leaves less than two fifths of the wall ({wall, number, mm} mm).',
    hint: 'Give less than {most, number, mm} mm.',
  },
  'documents.too-many-passes': {
    exit: 2,
    message:
      '{depth, number, mm} mm in passes of {pass, number, mm} mm takes more than {most, number} passes.',
    hint: 'Give less depth, or a deeper `pass` in the cutter or the material.',
  },
  'documents.beam-on-celluloid': {
    exit: 2,
    message: '`{cutter}` is a beam and `{material}` is celluloid, which burns fast, even without air.',
    hint: 'Use a drag point, or a turning cutter kept cool, and follow the local fire code.',
  },
  'documents.groove-needs-cone': {
    exit: 2,
    message: 'A groove is cut by a cone, but `{cutter}` is a {shape}.',
    hint: 'Use a cone cutter, or another `way`.',
  },
  'documents.cutter-clears-nothing': {
    exit: 2,
    message: '`{cutter}` only draws lines and cannot clear an area.',
    hint: 'Use a cone, ball or flat cutter, or another `way`.',
  },
  'documents.hatch-not-cleared': {
    exit: 2,
    message: '`hatch` is for a cleared area only.',
    hint: 'Remove `hatch`, or give `way: clear`.',
  },
  'documents.too-many-waves': {
    exit: 2,
    message:
      'With {count} round the ring in {rows, plural, one {# row} other {# rows}}, the pattern has more than {most, number} waves or lobes.',
    hint: 'Give fewer rows, fewer round the ring, or fewer lobes.',
  },
  'documents.too-many-repeats': {
    exit: 2,
    message: '{rows, plural, one {# row} other {# rows}} of {count} make more than {most, number} repeats.',
    hint: 'Give fewer rows, or fewer round the ring.',
  },
  'documents.text-blank': {
    exit: 2,
    message: 'This text has nothing but spaces, so nothing of it would be cut.',
    hint: 'Write its words, or leave the mark out.',
  },
  'documents.too-many-letters': {
    exit: 2,
    message: 'This mark has {letters, number} letters, more than {most, number}.',
    hint: 'Shorten the text, or make a mark of each part of it.',
  },
  'documents.too-fine-to-clear': {
    exit: 2,
    message:
      'Clearing a height of {size, number, mm} mm with lines {width, number, mm} mm wide takes more than {most, number} lines.',
    hint: 'Use a wider cutter, or `way: trace`.',
  },
  'documents.no-zone': {
    exit: 2,
    message: 'A {what} does not move to fit, so it takes no zone.',
    hint: 'Give one number for `z`, and one for `angle`.',
  },
  'documents.size-reversed': {
    exit: 2,
    message: '`max` ({max, number, mm}) is less than `min` ({min, number, mm}).',
    hint: 'Give the smaller height as `min`.',
  },
  'documents.helix-without-pitch': {
    exit: 2,
    message: 'A helix needs a pitch of 0.1 mm or more.',
    hint: 'Give `pitch`, the mm that it climbs in a turn.',
  },
  'documents.pitch-without-helix': {
    exit: 2,
    message: 'Only a helix has a pitch.',
    hint: 'Remove `pitch`, or give `baseline: helix`.',
  },
  'documents.closes-and-arc': {
    exit: 2,
    message: '`closes` and `arc` are both given.',
    hint: 'Give one of the two.',
  },
  'documents.spread-needs-z': {
    exit: 2,
    message: 'Words that are spread round a ring need the z of the ring.',
    hint: 'Give one number for `z`.',
  },
  'documents.spread-needs-ring': {
    exit: 2,
    message: 'Words can be spread round a ring only.',
    hint: 'Give `baseline: ring`, or remove this key.',
  },
  'documents.spread-one-row': {
    exit: 2,
    message: 'Only one row of words can be spread round a ring.',
    hint: 'Make a mark of each row.',
  },
  'documents.drop-needs-repeat': {
    exit: 2,
    message: '`drop` is for repeats only.',
    hint: 'Give `repeat`, or write `refuse` or `trim` here.',
  },
  'documents.one-height': {
    exit: 2,
    message: 'A {what} is not fitted to a range of heights.',
    hint: 'Give a single height.',
  },
  'documents.mirror-odd-count': {
    exit: 2,
    message: 'With {count} repeats round the ring, an odd number, two alike meet at the seam.',
    hint: 'Give an even count, or `mirror: none`.',
  },
  'documents.rows-without-rise': {
    exit: 2,
    message: 'Several rows need the distance between them.',
    hint: 'Give `rise`, the mm from row to row.',
  },
  'documents.off-surface': {
    exit: 2,
    message: 'z {z, number, mm} is not on the surface `{surface}`.',
    hint: 'Give a z from {from, number, mm} to {to, number, mm}.',
  },
  'documents.zone-not-rising': {
    exit: 2,
    message: 'The zone goes from {low, number, mm} to {high, number, mm}, but it must rise.',
    hint: 'Give the smaller number first, or a single number.',
  },
  'documents.angle-zone-not-rising': {
    exit: 2,
    message: 'The zone goes from {low, number, deg} to {high, number, deg} degrees, but it must rise.',
    hint: 'Give the smaller number first. Across the seam angles run on, such as 350 to 370.',
  },
  'documents.angle-zone-all-round': {
    exit: 2,
    message: 'The zone spans {span, number, deg} degrees, a whole turn or more.',
    hint: 'Write `any` to allow every angle.',
  },
  'documents.angle-missing': {
    exit: 2,
    message: 'Neither `angle` nor `opposite` is given.',
    hint: 'Give one of the two.',
  },
  'documents.angle-and-opposite': {
    exit: 2,
    message: '`angle` and `opposite` are both given.',
    hint: 'Give one of the two.',
  },
  'documents.nothing-opposite': {
    exit: 2,
    message: '`{keepout}` is a {kind}. It goes all round, so nothing is opposite it.',
    hint: 'Name a clip or window, or give an `angle`.',
  },
  'documents.design-twice': {
    exit: 2,
    message: 'The design `{design}` is listed twice.',
    hint: 'Keep one of them.',
  },
  'documents.series-reversed': {
    exit: 2,
    message: '`to` ({to}) is before `from` ({from}).',
    hint: 'Give the last number as `to`.',
  },
  'documents.roman-too-large': {
    exit: 2,
    message: 'Roman numerals go to {most} here, and {last} is more.',
    hint: 'Shorten the series, or use arabic figures.',
  },
  'documents.roman-padded': {
    exit: 2,
    message: 'Roman numerals are not filled with 0.',
    hint: 'Remove `pad`, or use arabic figures.',
  },
  'documents.pad-too-short': {
    exit: 2,
    message: 'The last number, {to}, has more digits than `pad` ({pad}).',
    hint: 'Write `pad: {digits}`, or leave `pad` out.',
  },
  'documents.total-too-small': {
    exit: 2,
    message: 'The stated total ({total}) is less than the last number ({to}).',
    hint: 'Give {to} at least, or leave `of` out.',
  },
  'documents.exclusion-both': {
    exit: 2,
    message: '`numbers` and `containing` are both given.',
    hint: 'Give one of the two.',
  },
  'documents.exclusion-neither': {
    exit: 2,
    message: 'Neither `numbers` nor `containing` is given.',
    hint: 'Give one of the two.',
  },
  'documents.exclusion-outside': {
    exit: 2,
    message: '{number} is not in the series ({from} to {to}).',
    hint: 'Remove it, or correct it.',
  },
  'documents.exclusion-twice': {
    exit: 2,
    message: '{number} is listed twice.',
    hint: 'Keep one of them.',
  },
  'documents.too-many-pieces': {
    exit: 2,
    message: 'The series have {pieces} numbers together; the most is {most}.',
    hint: 'Give some of them an edition of their own.',
  },
  'documents.none-left': {
    exit: 2,
    message: 'The exclusions leave no number of the series.',
    hint: 'Exclude fewer numbers.',
  },
} as const;
