import { type Problem, Refusal } from '../../problem.js';
import { currentSteps } from '../current-events.js';
import { isOfNumber, type NumberEvent } from '../event.js';
import { applyEvent, type Life, replayLives } from '../lifecycle.js';
import type { PastEvent, StoredEvent } from '../register.js';

/** An event that a paper proves, with its place in the register that was lost. */
export interface KnownEvent {
  readonly seq: number;
  readonly event: NumberEvent;
  /** The name of the paper. */
  readonly paper: string;
}

/** A certificate that was given away: what its entry said. */
export interface KnownCertificate {
  readonly paper: string;
  readonly serial: number;
  /** SHA-256 of its file, hex. */
  readonly digest: string;
}

/** What is known of one number, from the register that is left and from papers. */
export interface KnownNumber {
  readonly edition: string;
  readonly series: string;
  readonly number: number;
  readonly label: string;
  /** Of the register that is left. */
  readonly history: readonly Pick<StoredEvent, 'seq' | 'event'>[];
  /** Of papers, in the order of their places. */
  readonly known: readonly KnownEvent[];
  /** Certificates of it among the papers. */
  readonly certificates: readonly KnownCertificate[];
  /** The first paper, by name, that only lists it. */
  readonly listedIn?: string;
  readonly parts: readonly string[];
  readonly editionClosed: boolean;
}

export interface RecoveredNumber {
  /** What the register lacks, to be entered in this order. */
  readonly events: readonly PastEvent[];
  /** The register gave the number to another piece than the papers did. */
  readonly twice: boolean;
  /** Why something that papers prove cannot be entered. */
  readonly problems: readonly Problem[];
}

const momentOf = ({ on, at }: NumberEvent): string => on ?? at;
const partOf = (event: NumberEvent): string | undefined => ('part' in event ? event.part : undefined);

/** Whether two entries are of one happening: what is entered again keeps its moment and its person. */
const isSame = (one: NumberEvent, other: NumberEvent): boolean =>
  one.type === other.type &&
  one.by === other.by &&
  partOf(one) === partOf(other) &&
  momentOf(one) === momentOf(other);

/** An issue that only stands for a label on a list was entered together with what holds it back. */
function isPlaceholder(steps: readonly NumberEvent[]): boolean {
  const at = steps.findIndex(({ type }) => type === 'issued');
  const [issued, withheld] = steps.slice(at, at + 2);
  return (
    at >= 0 && withheld?.type === 'withheld' && issued!.at === withheld.at && issued!.why === withheld.why
  );
}

/** What is to be entered of one number so that it is not taken twice, nor cut twice. */
export function recoverNumber(number: KnownNumber, by: string, at: string): RecoveredNumber {
  const { edition, series, label, history, known, certificates, listedIn } = number;
  const base = { edition, series, number: number.number, label };
  const events: PastEvent[] = [];
  const problems: Problem[] = [];
  let life: Life | undefined = replayLives(history)[0];
  const enter = (...more: PastEvent[]): boolean => {
    let next = life;
    try {
      for (const one of more) next = applyEvent(next, eventOf(one, at), number);
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      problems.push(...error.problems);
      return false;
    }
    life = next;
    events.push(...more);
    return true;
  };
  const withhold = (why: string): void => {
    if (
      life?.state === 'withheld' ||
      !life?.parts.every(({ state }) => ['blank', 'engraved'].includes(state))
    )
      return;
    if (['issued', 'recut', 'engraved', 'inspected'].includes(life.state))
      enter({ ...base, event: 'withheld', by, why });
  };
  const had = currentSteps(history).map(({ event }) => event);
  const steps = currentSteps(known);
  const issued = had.find(({ type }) => type === 'issued');
  const issue = steps.find(({ event }) => event.type === 'issued');
  const placeholder = isPlaceholder(had);
  if (issued && issue && !placeholder && !isSame(issued, issue.event)) {
    withhold(`given out twice: see ${issue.entered.paper}`.slice(0, 200));
    return { events, twice: true, problems: [] };
  }
  const lacking = steps.filter(
    ({ event }) => !had.some((one) => isSame(one, event)) && !(issued && event.type === 'issued'),
  );
  if (lacking.length > 0) {
    const release = life?.state === 'withheld' && lacking[0]!.event.type !== 'released';
    const why = `${lacking[0]!.entered.paper} accounts for it`.slice(0, 200);
    const done = enter(
      ...(release ? [{ ...base, event: 'released' as const, by, why }] : []),
      ...lacking.map(({ event }) => pastEventOf(event)),
    );
    // What bears the number already must at least not be cut again.
    if (!done) withhold(why);
  }
  const entered = new Set(history.flatMap(({ event }) => (event.type === 'certified' ? [event.digest] : [])));
  for (const { paper, serial, digest } of [...certificates].sort((a, b) => a.serial - b.serial))
    if (!entered.has(digest))
      enter({ ...base, event: 'certified', by, why: `made before: ${paper}`.slice(0, 200), serial, digest });
  if (listedIn === undefined) return { events, twice: false, problems };
  const why = `listed in ${listedIn}, after a loss of the register`.slice(0, 200);
  if ((life?.pieces ?? 0) === 0) {
    const parts = number.parts.length > 0 ? { parts: number.parts } : {};
    enter(
      ...(life?.state === 'withheld' ? [{ ...base, event: 'released' as const, by, why }] : []),
      { ...base, event: 'issued', by, why, ...parts },
      { ...base, event: 'withheld', by, why },
    );
  } else if (life?.parts.some(({ state }) => state === 'blank')) withhold(why);
  return { events, twice: false, problems };
}

/** The same happening, to be entered again. */
function pastEventOf({ type, at, key, nth, salt, ...rest }: NumberEvent): PastEvent {
  return { ...rest, event: type, on: rest.on ?? at } as PastEvent;
}

const eventOf = ({ event, ...rest }: PastEvent, at: string): NumberEvent =>
  ({ why: 'restored', ...rest, type: event, at }) as NumberEvent;

/** The events of numbers among stored ones. */
export const numberEvents = (
  events: readonly Pick<StoredEvent, 'seq' | 'event'>[],
  paper: string,
): KnownEvent[] => events.flatMap(({ seq, event }) => (isOfNumber(event) ? [{ seq, event, paper }] : []));
