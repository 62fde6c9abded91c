import type { Strokes } from './artwork.js';

/** The name of a drawing together with one way of taking its strokes. */
export const motifKey = (artwork: string, strokes: Strokes): string => `${artwork} ${strokes}`;
