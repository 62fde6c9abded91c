import { definePhrases } from '../problem.js';

/** What would make a mark fit. */
export const changes = definePhrases(', or ', {
  'layout.change-size': 'allow a size of {size} mm',
  'layout.change-z': 'move it {by} mm along, to z {to}',
  'layout.change-angle': 'turn it {by, number, deg} degrees, to angle {to, number, deg}',
});
