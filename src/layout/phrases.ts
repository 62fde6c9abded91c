import { definePhrases } from '../problem.js';

/** What limits a mark, besides what its surface has to be kept clear of. */
export const markLimits = definePhrases(', ', {
  'layout.zone': 'zone of {mark}',
  'layout.mark': 'mark {mark}',
  'layout.own-start': 'its own start, all round the ring',
  'layout.own-length': 'the length its words are spread over',
});

/** What would make a mark fit. */
export const changes = definePhrases(', or ', {
  'layout.change-size': 'allow a size of {size} mm',
  'layout.change-arc': 'give it an `arc` of {to}',
  'layout.change-spacing': 'give it a `spacing` of {to}',
  'layout.change-times': 'write `times: {to}`',
  'layout.change-z': 'move it {by} mm along, to z {to}',
  'layout.change-angle': 'turn it {by, number, deg} degrees, to angle {to, number, deg}',
});
