import type { Surface } from '../surface/surface.js';
import type { FitRequest, Letter } from './clearance-evaluator.js';
import { LEAST_PACE } from './search.js';

/** Farthest any ink lies from its line's middle, in letter heights. */
export function inkReach(letters: readonly Letter[]): number {
  let most = 0.5;
  for (const { glyph, places } of letters) {
    for (const s of glyph.path) {
      for (let i = 1; i + 1 < s.length; i += 2) {
        for (const { x, y } of [places[0]!, places.at(-1)!])
          most = Math.max(most, Math.hypot(x + (s[i] as number), y + (s[i + 1] as number) - 0.5));
      }
    }
  }
  return most;
}

/** What the motions of a mark are bounded by: the parts of a request that they depend on. */
export type MovedMark = Pick<FitRequest, 'surface' | 'zone'> & {
  readonly mark: Pick<FitRequest['mark'], 'baseline'>;
};

/**
 * How far any ink moves, at the most, where the middle of its mark moves by 1 mm in its zone. `reach` is how far ink lies
 * from the middle, mm. On a cylinder, and along the generator, all of it moves alike. On a cone a turn moves the ink
 * farther that is farther from the apex, and the letters of a ring or a helix close up where it moves towards the apex:
 * docs/fit.md derives the bound.
 */
export function paceOfMark({ surface, zone, mark }: MovedMark, reach: number): number {
  const [from, to] = zone.angle;
  if (mark.baseline === 'lengthwise' && from === to) return LEAST_PACE;
  const k = shareOfCone({ surface, zone }, reach);
  return Math.max(LEAST_PACE, 1 + 2 * k * (1 + k));
}

/** The least that is taken for it, since letters of a ring move on an arc. */
const LEAST_PACE_OF_SHRINKING = 1.1;

/** How much farther than on the flat any ink moves, at the most, where the mark shrinks about its middle. */
export const paceOfShrinking = ({ surface, zone }: MovedMark, reach: number): number =>
  Math.max(LEAST_PACE_OF_SHRINKING, 1 + shareOfCone({ surface, zone }, reach));

/** How far ink lies from the mark's middle, as a part of how far it stays from the apex at the least; 0 on a cylinder. */
function shareOfCone(
  { surface, zone }: { surface: Surface; zone: FitRequest['zone'] },
  reach: number,
): number {
  if (!surface.apex) return 0;
  const [, apex] = surface.apex;
  const near = Math.min(...zone.z.map((z) => Math.abs(surface.slant(z) - apex)));
  return reach / Math.max(near - reach, reach / 100);
}
