import { fitEdition } from '../../dist/app/fit.js';
import { openWorkshop } from '../../dist/app/workshop.js';
import { bigEdition, EDITION, environmentFor } from './big-edition.mjs';
import { spread, timed } from './rounds.mjs';

const FIXED = { z: 10.5, opposite: 'clip' };
const FREE = { z: [5, 40], angle: 'any' };
const SMALL = { min: 1.2, max: 2.4 };
const LARGE = { min: 2, max: 9 };

const CASES = [
  [1000, 'burin-plain', 'tabular', FIXED, SMALL],
  [10_000, 'burin-plain', 'tabular', FIXED, SMALL],
  [1000, 'jost', 'proportional', FIXED, SMALL],
  [10_000, 'jost', 'proportional', FIXED, SMALL],
  [1000, 'cormorant', 'proportional', FIXED, SMALL],
  [10_000, 'cormorant', 'proportional', FIXED, SMALL],
  [1000, 'burin-plain', 'tabular', FREE, SMALL],
  [1000, 'jost', 'proportional', FREE, SMALL],
  [10_000, 'jost', 'proportional', FREE, SMALL],
  [90, 'burin-plain', 'tabular', FREE, LARGE],
  [1000, 'jost', 'proportional', FREE, LARGE],
];

export const title = 'one size and one place for every label of an edition, the number on the cap, ms';

/** The workshop is opened outside the timing; setting the labels in their font is inside. */
export async function measure({ rounds }) {
  const rows = [];
  for (const [labels, font, figures, place, size] of CASES) {
    const made = await bigEdition(labels, (design) => {
      Object.assign(design.marks[0], { font, figures, place, size });
    });
    try {
      const workshop = await openWorkshop(made.workshop, environmentFor(made.workshop));
      const times = [];
      let fit;
      for (let k = 0; k <= rounds; k++) {
        const ms = await timed(() => {
          fit = fitEdition(workshop, EDITION);
        });
        if (k > 0) times.push(ms);
      }
      const { result } = fit.marks.find((m) => m.fit.of.mark.kind === 'number').fit;
      rows.push({
        labels,
        font,
        figures,
        place: place === FREE ? 'free both ways' : 'fixed',
        sizes: `${size.min}..${size.max}`,
        found: result.ok ? String(result.size) : 'none',
        ...spread(times),
      });
    } finally {
      await made.clear();
    }
  }
  return [rows];
}
