import type { Cutter } from '../documents/schema/cutter.js';
import type { Part } from '../documents/schema/part.js';
import type { Station } from '../documents/schema/station.js';
import type { Surface } from '../surface/surface.js';
import { wrapDeg } from '../units.js';
import { formatNumber } from './readable-numbers.js';

/** A line of the set-up: what it is about, and what to do or read. */
export interface SetUpLine {
  readonly key: string;
  readonly words: string;
}

/** Where each axis of the machine has its zero, in words. */
export function zeroLines(station: Station, surface: Surface, part: Part): SetUpLine[] {
  const { x, a, z } = station.axes;
  const level = station.setup === 'level';
  const foot = `z = ${formatNumber(surface.z0)} mm`;
  const across = `${formatNumber(2 * surface.radius(surface.z0))} mm across`;
  const lower = `the lower edge of the surface (${foot}, ${across})`;
  const clip = part.keepouts.find((k) => k.kind === 'clip' && wrapDeg(k.angle) === 0);
  const index = clip ? 'index line (clip centre)' : 'index line';
  return [
    { key: 'Set-up', words: describeSetUp(level, surface) },
    {
      key: `X ${formatNumber(x.offset)}`,
      words: `${level ? 'datum end of the part (z = 0)' : lower}; X ${x.sign === 1 ? 'grows' : 'falls'} as z grows`,
    },
    {
      key: `A ${formatNumber(a.offset)}`,
      words: `${index} up, under the cutter; A ${a.sign === 1 ? 'grows' : 'falls'} as the angle grows`,
    },
    {
      key: `Z ${formatNumber(z.offset)}`,
      words:
        z.zero === 'touch'
          ? `touch the cutter to the surface at ${lower}`
          : 'the tip of the cutter on the axis of rotation',
    },
  ];
}

function describeSetUp(level: boolean, surface: Surface): string {
  if (level) return 'Level: the axis of the part is level, the cutter points at the axis.';
  const taper = formatNumber(Math.abs(surface.taper), 2);
  return surface.taper === 0
    ? 'Tilted, here by 0°: the surface is a cylinder, so the axis of the part is level.'
    : `Tilted, here by ${taper}°: raise the narrower end until the top line of the surface is level, with the cutter square to it.`;
}

const SHAPES: Readonly<Record<Cutter['shape'], string>> = {
  drag: 'drag point',
  cone: 'cone',
  ball: 'ball',
  flat: 'flat end',
  beam: 'beam',
};

/** The tip of a cutter in words. */
export function describeTip(cutter: Cutter): string {
  const shape = SHAPES[cutter.shape];
  switch (cutter.shape) {
    case 'cone':
      return `${shape}, ${formatNumber(cutter.angle)}° included, tip ${formatNumber(cutter.tip)} mm`;
    case 'ball':
    case 'flat':
      return `${shape}, ${formatNumber(cutter.diameter)} mm across`;
    default:
      return `${shape}, line ${formatNumber(cutter.width)} mm`;
  }
}
