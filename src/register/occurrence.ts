import { type Problem, Refusal } from '../problem.js';
import { EARLIEST_PLACE_HOURS, LATEST_PLACE_HOURS } from './clock.js';
import { type CurrentStep, currentSteps, isStep, saysAlready } from './current-events.js';
import type { NumberEvent, RegisterEvent } from './event.js';
import type { PlacedEvent } from './lifecycle.js';
import { problem } from './messages.js';
import { readsAsSamePerson } from './person.js';

// A moment of the register is UTC, and a person names a day of their own place.

/** The calendar day of a moment at a place so many hours from UTC. */
const dayAt = (moment: string, hours: number): string =>
  new Date(Date.parse(moment) + hours * 3_600_000).toISOString().slice(0, 10);

/** The first day on which an event can have happened, wherever its person was. */
const earliestDay = ({ on, at }: RegisterEvent): string =>
  on === undefined
    ? dayAt(at, EARLIEST_PLACE_HOURS)
    : on.length === 10
      ? on
      : dayAt(on, EARLIEST_PLACE_HOURS);

/** The last day on which it can have happened. */
const latestDay = ({ on, at }: RegisterEvent): string =>
  on === undefined ? dayAt(at, LATEST_PLACE_HOURS) : on.length === 10 ? on : dayAt(on, LATEST_PLACE_HOURS);

/**
 * Names the first of these steps whose day is still to come at a moment. Its clock was wrong, and times began anew after it
 * (`docs/resume.md`): until its day is corrected, whatever follows would be before it.
 */
export function aheadProblem(steps: readonly CurrentStep[], at: string): Problem | undefined {
  const ahead = steps.find(({ event }) => earliestDay(event) > dayAt(at, LATEST_PLACE_HOURS));
  if (!ahead) return undefined;
  const { type, label } = ahead.event;
  const values = { event: type, earliest: earliestDay(ahead.event), seq: ahead.seq ?? 0 };
  return problem('register.step-ahead', `label ${label}`, values);
}

/**
 * What is asked of a new event beside the rules of its number: it happened neither after it was entered nor before what
 * it follows, and its witness is another person, also under another spelling. A correction says
 * something else than stands there, and the day of a corrected event comes before what followed it. Registers that have such an event from before stay readable, so this is no rule of the life
 * of a number. Throws a Refusal (exit 3).
 */
export function checkOccurrence(event: NumberEvent, before: readonly PlacedEvent[]): void {
  const where = `label ${event.label}`;
  if ('witness' in event && event.witness !== undefined && readsAsSamePerson(event.by, event.witness))
    throw new Refusal([problem('register.own-witness', where, {})]);
  const steps = currentSteps(before);
  // A certificate shows the days of the steps before it.
  if (isStep(event) || event.type === 'certified') checkNotBefore(event, steps);
  checkDay(event.on, event, steps.at(-1)?.event);
  if (event.type !== 'corrected') return;
  const at = steps.findIndex(({ seq }) => seq === event.corrects);
  const step = steps[at]?.event;
  if (step && saysAlready(step, event))
    throw new Refusal([
      problem('register.says-so-already', where, { event: event.corrects, type: step.type }),
    ]);
  if (event.day === undefined) return;
  checkNotBefore(event, steps.slice(0, Math.max(0, at)));
  checkDay(event.day, event, steps[at - 1]?.event);
  const day = event.day.slice(0, 10);
  const next = steps[at + 1]?.event;
  if (next && day > latestDay(next)) {
    const values = { day, event: next.type, latest: latestDay(next) };
    throw new Refusal([problem('register.day-too-late', where, values)]);
  }
}

function checkNotBefore({ at }: NumberEvent, steps: readonly CurrentStep[]): void {
  const found = aheadProblem(steps, at);
  if (found) throw new Refusal([found]);
}

function checkDay(on: string | undefined, event: NumberEvent, last: RegisterEvent | undefined): void {
  if (on === undefined) return;
  const where = `label ${event.label}`;
  const day = on.slice(0, 10);
  if (day > dayAt(event.at, LATEST_PLACE_HOURS))
    throw new Refusal([problem('register.day-to-come', where, { day })]);
  if (last && day < earliestDay(last)) {
    const values = { day, event: last.type, earliest: earliestDay(last) };
    throw new Refusal([problem('register.day-too-early', where, values)]);
  }
}
