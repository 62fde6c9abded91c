/**
 * Engine-turned patterns: lines given by the counts and amplitudes a turner sets, closing exactly because every count
 * round the ring is whole. A step may be any number: it moves rows against one another, never a line against itself.
 */
export type PatternSpec =
  /** Rows of waves, each row's phase moved by `step` of a wave. */
  | (Rows & { readonly form: 'waves'; readonly count: number; readonly step: number })
  /** Waves moved by half a wave from row to row, so that grains stand between them. */
  | (Rows & { readonly form: 'barleycorn'; readonly count: number })
  /** As many rows as `strands` run side by side, then as many half a wave on. */
  | (Rows & { readonly form: 'basket'; readonly count: number; readonly strands: number })
  /** Two trains of waves of different counts over one another. */
  | (Rows & {
      readonly form: 'moire';
      readonly count: number;
      readonly second: number;
      readonly step: number;
    })
  /** Rosettes of nested lobed curves, `count` to the ring. */
  | {
      readonly form: 'rosettes';
      readonly count: number;
      readonly rows: number;
      readonly rise: number;
      readonly step: number;
      /** Of the outermost curve at its crests, mm. */
      readonly radius: number;
      readonly lobes: number;
      /** How far a lobe stands out, as a part of its curve's radius. */
      readonly depth: number;
      /** Curves within one another. */
      readonly curves: number;
    };

interface Rows {
  /** From a line's middle to its crest, mm. */
  readonly amplitude: number;
  readonly rows: number;
  /** From row to row along the surface, mm. */
  readonly rise: number;
}

/**
 * A line that goes once round: points u, v, where u is in turns from 0 to 1 and v in mm along the surface from the
 * pattern's middle. The last point is the first, a turn on.
 */
export type RoundLine = Float64Array;

export type RingPattern = Exclude<PatternSpec, { form: 'rosettes' }>;
export type RosettePattern = Extract<PatternSpec, { form: 'rosettes' }>;

/** A wave of a row: waves to the turn, and phase in waves. */
interface Wave {
  readonly count: number;
  readonly phase: number;
  readonly v: number;
}

/**
 * The lines of a pattern that goes all round, row by row upward, no chord farther than `tolerance` mm from its wave.
 */
export function ringLines(spec: RingPattern, tolerance: number): RoundLine[] {
  return wavesOf(spec).map((wave) => waveLine(wave, spec.amplitude, tolerance));
}

function wavesOf(spec: RingPattern): Wave[] {
  const { count, rows, rise } = spec;
  const row = (k: number, phase: number, waves = count): Wave => ({
    count: waves,
    phase,
    v: (k - (rows - 1) / 2) * rise,
  });
  const all = Array.from({ length: rows }, (_, k) => k);
  switch (spec.form) {
    case 'waves':
      return all.map((k) => row(k, k * spec.step));
    case 'barleycorn':
      return all.map((k) => row(k, k / 2));
    case 'basket':
      return all.map((k) => row(k, Math.floor(k / spec.strands) / 2));
    case 'moire':
      return [
        ...all.map((k) => row(k, k * spec.step)),
        ...all.map((k) => row(k, -k * spec.step, spec.second)),
      ];
  }
}

/** Points of one wave: a chord over the part h of a wave strays by at most amplitude (2 pi h)^2 / 8 from it. */
export function pointsOfWave(amplitude: number, tolerance: number): number {
  const bend = amplitude === 0 ? 0 : 2 * Math.PI * Math.sqrt(amplitude / (8 * tolerance));
  return Math.max(8, 4 * Math.ceil(bend / 4));
}

function waveLine({ count, phase, v }: Wave, amplitude: number, tolerance: number): RoundLine {
  const each = pointsOfWave(amplitude, tolerance);
  const n = count * each;
  const line = new Float64Array(2 * (n + 1));
  for (let i = 0; i <= n; i++) {
    line[2 * i] = i / n;
    // Counted within one wave, so that every wave, and the last point, is the first again to the last bit.
    line[2 * i + 1] = v + amplitude * Math.sin(2 * Math.PI * ((i % each) / each + phase));
  }
  return line;
}

/** The mean radius of a curve of a rosette, the outermost being 0, mm. */
const meanRadius = ({ radius, curves, depth }: RosettePattern, k: number): number =>
  (radius * (curves - k)) / curves / (1 + depth);

/** Points of one lobe of a curve of a rosette. */
export function pointsOfLobe(spec: RosettePattern, k: number, tolerance: number): number {
  const { lobes, depth } = spec;
  const bend = meanRadius(spec, k) * (1 + depth * (1 + lobes * lobes) + 2 * depth * lobes);
  return Math.max(8, Math.ceil((2 * Math.PI * Math.sqrt(bend / (8 * tolerance))) / lobes));
}

/** The curves of one rosette about its middle, mm, outermost first, closed; chords within `tolerance` mm. */
export function rosetteCurves(spec: RosettePattern, tolerance: number): Float64Array[] {
  const { lobes, depth, curves } = spec;
  return Array.from({ length: curves }, (_, k) => {
    const mean = meanRadius(spec, k);
    const n = lobes * pointsOfLobe(spec, k, tolerance);
    const points = new Float64Array(2 * n);
    for (let i = 0; i < n; i++) {
      const angle = (2 * Math.PI * i) / n;
      // Every second curve has its crests between those of the one outside it.
      const r = mean * (1 + depth * Math.cos(lobes * angle + (k % 2) * Math.PI));
      points[2 * i] = r * Math.cos(angle);
      points[2 * i + 1] = r * Math.sin(angle);
    }
    return points;
  });
}
