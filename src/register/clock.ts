import { refuse } from './messages.js';

/** No program of this name was made before: an earlier clock is one that lost its time. */
const FIRST_DAY = '2026-01-01';
const DAY_MS = 24 * 3_600_000;
/** A clock that says more since the last entry is asked about. */
const MOST_AHEAD_MS = 366 * DAY_MS;
/** Clocks of several benches differ a little, and never by so much. */
const MOST_BEHIND_MS = DAY_MS;
/** From UTC-12 to UTC+14 it is another day somewhere. */
const PLACES_MS = [-12 * 3_600_000, 14 * 3_600_000] as const;

/** Asks about a clock before its time is entered; `last` is the time of the last entry. Throws a Refusal (exit 3). */
export type ClockCheck = (now: Date, last: string | undefined) => void;

/**
 * A clock far from the last entry is not followed: no entry is before the one that precedes it, so one wrong time would
 * hold all later ones. `today` is the day as a person says it is; a clock that agrees with it is believed.
 */
export const clockCheck =
  (today: string | undefined): ClockCheck =>
  (now, last) => {
    const clock = now.toISOString();
    if (today !== undefined) {
      const days = PLACES_MS.map((ms) => new Date(now.getTime() + ms).toISOString().slice(0, 10));
      if (/^\d{4}-\d\d-\d\d$/.test(today) && today >= days[0]! && today <= days[1]!) return;
      throw refuse('register.clock-not-today', 'BURIN_TODAY', { today: today.slice(0, 40), clock });
    }
    const where = `clock ${clock}`;
    const day = clock.slice(0, 10);
    if (day < FIRST_DAY) throw refuse('register.clock-too-early', where, { first: FIRST_DAY, day });
    if (last === undefined) return;
    const since = now.getTime() - Date.parse(last);
    if (since > MOST_AHEAD_MS) throw refuse('register.clock-ahead', where, { last, day });
    if (since < -MOST_BEHIND_MS) throw refuse('register.clock-behind', where, { last, day });
  };
