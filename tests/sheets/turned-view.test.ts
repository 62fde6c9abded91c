import { describe, expect, it } from 'vitest';
import { turnedView } from '../../src/sheets/turned-view.js';
import { asXml, numbersIn, roles } from './drawn.js';
import { canvas, cap, capSurface, numberBlocks } from './lantern-coast.js';

const blocks = numberBlocks('8/90');
const area = blocks.map((block) => ({ ...block, mark: 'area', area: block.lines.map((l) => l.points) }));
const scene = {
  title: 'Nine Lights, Cap',
  label: '8/90',
  part: cap,
  surfaces: [{ surface: capSurface, blocks: [...blocks, ...area], widths: new Map([['number', 0.18]]) }],
};
const root = asXml(turnedView(canvas, scene)).documentElement;
const views = roles(root, 'view');
const cutIn = (view: Element, mark: string) =>
  view.querySelector(`[data-role="cut"] [data-mark="${mark}"]`)!.getAttribute('d')!;

describe('a view from four sides', () => {
  it('shows each side with its angle, three times the size', () => {
    expect(views.map((v) => v.getAttribute('data-angle'))).toEqual(['0', '90', '180', '270']);
    for (const view of views) expect(view.getAttribute('transform')).toMatch(/^matrix\(3 0 0 -3 /);
  });

  it('shows a number opposite the clip on the far side alone, as wide as its arc looks', () => {
    expect(cutIn(views[0]!, 'number')).toBe('');
    const xs = numbersIn(cutIn(views[2]!, 'number')).filter((_, i) => i % 2 === 0);
    const points = blocks.flatMap(({ turn, lines }) =>
      lines.flatMap((l) =>
        Array.from({ length: l.points.length / 2 }, (_, k) => {
          const { angle } = capSurface.toSurfaceNear(l.points[2 * k]!, l.points[2 * k + 1]!);
          return 6.3 * Math.sin(((turn + angle - 180) * Math.PI) / 180);
        }),
      ),
    );
    expect(Math.min(...xs)).toBeCloseTo(Math.min(...points), 3);
    expect(Math.max(...xs)).toBeCloseTo(Math.max(...points), 3);
  });

  it('fills areas, and leaves out those behind', () => {
    const path = views[2]!.querySelector('[data-mark="area"]')!;
    expect(path.getAttribute('stroke')).toBe('none');
    expect(cutIn(views[2]!, 'area')).toMatch(/Z$/);
    expect(cutIn(views[0]!, 'area')).toBe('');
  });

  it('shows the clip where it faces the viewer and at both edges, never from behind', () => {
    const clips = views.map((v) => (v.innerHTML.match(/V\d/g) ?? []).length);
    expect(clips).toEqual([1, 1, 0, 1]);
  });
});
