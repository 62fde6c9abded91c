import { refuse } from './messages.js';

/** No program of this name was made before: an earlier clock is one that lost its time, whoever confirms it. */
const FIRST_DAY = '2026-01-01';
const DAY_MS = 24 * 3_600_000;
/** The first entry of a register can be held against nothing else than this program: a later clock is asked about. */
const FIRST_DAY_TOO_LATE = '2036-01-01';
/** A clock that says more since the last entry is asked about. */
const MOST_AHEAD_MS = 366 * DAY_MS;
/**
 * Clocks of several benches, and that of a server, differ a little, and never by so much. Each database refuses an entry
 * that is further ahead of its own clock (`form-sql.ts`).
 */
export const CLOCKS_DIFFER_DAYS = 1;
export const CLOCKS_DIFFER_MS = CLOCKS_DIFFER_DAYS * DAY_MS;
/** From UTC-12 to UTC+14 it is another day somewhere. */
export const EARLIEST_PLACE_HOURS = -12;
export const LATEST_PLACE_HOURS = 14;
const PLACES_MS = [EARLIEST_PLACE_HOURS * 3_600_000, LATEST_PLACE_HOURS * 3_600_000] as const;

/** The last entry: its place in the sequence, and its time. */
export interface LastEntry {
  readonly seq: number;
  readonly at: string;
}

/** Asks about a clock before its time is entered. Throws a Refusal (exit 3). */
export type ClockCheck = (now: Date, last: LastEntry | undefined) => void;

/** Why a clock is asked about before anything is made with its time; `day` is what it says. */
export type ClockDoubt =
  | { readonly is: 'early' | 'late'; readonly day: string; readonly bound: string }
  | { readonly is: 'ahead'; readonly day: string; readonly last: string };

/** What is asked about a clock when the last time that it is held against is `last`; undefined where it is followed. */
export function clockDoubt(now: Date, last: string | undefined): ClockDoubt | undefined {
  const day = now.toISOString().slice(0, 10);
  if (now.getTime() < Date.parse(FIRST_DAY)) return { is: 'early', day, bound: FIRST_DAY };
  if (last === undefined)
    return now.getTime() < Date.parse(FIRST_DAY_TOO_LATE)
      ? undefined
      : { is: 'late', day, bound: FIRST_DAY_TOO_LATE };
  return now.getTime() - Date.parse(last) > MOST_AHEAD_MS ? { is: 'ahead', day, last } : undefined;
}

/**
 * A clock far from the last entry is not followed: no entry is before the one that precedes it, so one wrong time would
 * hold all later ones. `today` is the day as a person says it is; a clock that agrees with it is believed. But where that
 * clock is right, an entry ahead of it had a wrong one, and holds all later ones until somebody says so.
 */
export const clockCheck =
  (today: string | undefined): ClockCheck =>
  (now, last) => {
    const clock = now.toISOString();
    const where = `clock ${clock}`;
    const doubt = clockDoubt(now, last?.at);
    if (doubt?.is === 'early') throw refuse('register.clock-too-early', where, { first: doubt.bound });
    if (today !== undefined) checkToday(now, today);
    else if (doubt?.is === 'ahead')
      throw refuse('register.clock-ahead', where, { last: doubt.last, day: doubt.day });
    else if (doubt) throw refuse('register.clock-too-late', where, { bound: doubt.bound, day: doubt.day });
    // A time that is none is further ahead than any.
    if (last && !(now.getTime() - Date.parse(last.at) >= -CLOCKS_DIFFER_MS))
      throw refuse('register.clock-behind', where, { last: last.at, event: last.seq });
  };

/** Throws a Refusal (exit 3) for a clock that does not agree with the day as a person says it is. */
export function checkToday(now: Date, today: string): void {
  const days = PLACES_MS.map((ms) => new Date(now.getTime() + ms).toISOString().slice(0, 10));
  if (/^\d{4}-\d\d-\d\d$/.test(today) && today >= days[0]! && today <= days[1]!) return;
  const clock = now.toISOString();
  throw refuse('register.clock-not-today', 'BURIN_TODAY', { today: today.slice(0, 40), clock });
}
