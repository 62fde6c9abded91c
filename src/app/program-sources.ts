import type { Operation } from '../cutting/operation.js';
import type { Numbered } from '../edition/labels.js';
import { sha256 } from './output-list.js';
import type { Workshop } from './workshop.js';

/** What besides the design decides how an operation is cut, in the order in which the head of a program names it. */
export const SOURCES = ['part', 'material', 'cutter', 'station', 'labels'] as const;

/** Of each the first digits of its digest: enough that no two versions of a document share them. */
export type ProgramSources = Readonly<Record<(typeof SOURCES)[number], string>>;

const DIGITS = 16;

/**
 * All labels of an edition are fitted as one: each of them may decide the size of all. A dedication is fitted by itself, and
 * one that was changed does not read back.
 */
export function programSources(
  { digests }: Workshop,
  stationId: string,
  operation: Operation,
  planned: readonly Numbered[],
): ProgramSources {
  const { part } = operation.marks[0]!.fitted.of;
  const ofDocument = (document: string) => digests.get(document)!.slice(0, DIGITS);
  return {
    part: ofDocument(`part/${operation.part}`),
    material: ofDocument(`material/${part.material}`),
    cutter: ofDocument(`cutter/${operation.cutter}`),
    station: ofDocument(`station/${stationId}`),
    labels: digestOf(planned.map(({ series, number, label }) => [series, number, label])).slice(0, DIGITS),
  };
}

export const formatSources = (sources: ProgramSources): string =>
  SOURCES.map((kind) => `${kind} ${sources[kind]}`).join(', ');

/** The kinds of which a head names another digest than that of today, or none. */
export function staleSources(named: string, sources: ProgramSources): (typeof SOURCES)[number][] {
  const found = new Set(named.split(', '));
  return SOURCES.filter((kind) => !found.has(`${kind} ${sources[kind]}`));
}

/** The digest of the designs whose marks an operation cuts: of one design, its own. */
export function designDigest({ digests }: Workshop, { marks }: Operation): string {
  const ids = [...new Set(marks.map(({ fitted }) => fitted.of.designId))];
  const all = ids.map((id) => digests.get(`design/${id}`)!);
  return all.length === 1 ? all[0]! : digestOf(all);
}

const digestOf = (value: unknown): string => sha256(Buffer.from(JSON.stringify(value)));
