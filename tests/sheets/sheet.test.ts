import { afterEach, describe, expect, it, vi } from 'vitest';
import type { CutBlock } from '../../src/cutting/cuts.js';
import { copiesOnPicture } from '../../src/sheets/block-copies.js';
import { displayText, stripIllegal } from '../../src/sheets/display-text.js';
import { type SheetScene, sheetWriter, writeSheet } from '../../src/sheets/sheet.js';
import type { Canvas } from '../../src/sheets/svg-canvas.js';
import { joinChunks } from '../../src/text-chunks.js';
import { nearDeg } from '../../src/units.js';
import { asXml, HOSTILE, numbersIn, roles } from './drawn.js';
import {
  barrelScene,
  blocksOf,
  canvas,
  capScene,
  capSurface,
  numberBlocks,
  plainScene,
  words,
} from './lantern-coast.js';

const make = (label: string, blocks: readonly CutBlock[], scene: SheetScene = capScene) =>
  writeSheet(canvas, scene, label, blocks);
const text = make('12/90', numberBlocks('12/90'));
const sheet = asXml(text).documentElement;

const matrixOf = (group: Element): number[] => numbersIn(group.getAttribute('transform')!);

afterEach(() => vi.restoreAllMocks());

describe('a sheet', () => {
  // SVG 1.1 section 7.2 and 7.10: a viewBox of the viewport's own numbers makes a user unit the viewport's unit.
  it('is true size', () => {
    for (const scene of [capScene, barrelScene, plainScene(0, 8, 4, 14)]) {
      const root = asXml(make('1', [], scene)).documentElement;
      const [, width] = root.getAttribute('width')!.match(/^([\d.]+)mm$/)!;
      const [, height] = root.getAttribute('height')!.match(/^([\d.]+)mm$/)!;
      expect(root.getAttribute('viewBox')).toBe(`0 0 ${width} ${height}`);
      const [surface] = roles(root, 'surface');
      expect(matrixOf(surface!).slice(0, 4)).toEqual([1, 0, 0, -1]);
    }
  });

  it('shows the cap as wide as its ring is long', () => {
    const xs = numbersIn(roles(sheet, 'edge')[0]!.querySelector('path')!.getAttribute('d')!).filter(
      (_, i) => i % 2 === 0,
    );
    expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo(Math.PI * 12.6, 3);
  });

  it('names its groups and its piece', () => {
    for (const role of ['surface', 'keepout', 'guide', 'cut', 'scale', 'title', 'label'])
      expect(roles(sheet, role), role).toHaveLength(1);
    expect(sheet.getAttribute('data-label')).toBe('12/90');
    expect(roles(sheet, 'cut')[0]!.getAttribute('data-label')).toBe('12/90');
    expect(roles(sheet, 'label')[0]!.textContent).toBe('12/90');
    expect(sheet.textContent).toContain('10 mm');
    expect(sheet.textContent).toContain('true size: check the bar with a rule before use');
    expect(sheet.textContent).toContain('4f1c9a07e2b3');
    expect(sheet.querySelectorAll('script, [href], image, style, foreignObject')).toHaveLength(0);
  });

  it('hatches every keep-out, and dashes its clearance round it', () => {
    const [kept] = roles(sheet, 'keepout');
    const named = [...kept!.querySelectorAll('[data-name]')];
    expect(named.map((e) => e.getAttribute('data-name'))).toEqual([
      'lower edge of body',
      'upper edge of body',
      'clip clip',
      'band lip',
    ]);
    for (const one of named) expect(one.getAttribute('stroke-dasharray')).toBeTruthy();
    expect([...kept!.querySelectorAll('[data-bare]')].map((e) => e.getAttribute('data-bare'))).toEqual([
      'clip clip',
      'band lip',
    ]);
    const hatching = kept!.querySelectorAll('path')[1]!.getAttribute('d')!;
    expect(hatching.match(/M/g)!.length).toBeGreaterThan(60);
  });

  it('has only figures a plotter can read', () => {
    for (const d of [...sheet.querySelectorAll('path')].map((p) => p.getAttribute('d')!)) {
      expect(d).toMatch(/^[MLZ\d. -]*$/);
      expect(d).not.toMatch(/-0(?![.\d])|\.\d{5}/);
    }
  });

  it('sets no type smaller than 2.6 mm, whose capitals stand 1.8 mm', () => {
    for (const one of sheet.querySelectorAll('text'))
      expect(Number(one.getAttribute('font-size'))).toBeGreaterThanOrEqual(2.6);
  });
});

describe('the cut', () => {
  it('is drawn as wide as it is cut, round at ends and corners, and not filled', () => {
    const [cut] = roles(sheet, 'cut');
    expect(cut!.getAttribute('fill')).toBe('none');
    expect(cut!.getAttribute('stroke-linecap')).toBe('round');
    expect(cut!.getAttribute('stroke-linejoin')).toBe('round');
    for (const path of cut!.querySelectorAll('path')) expect(path.getAttribute('stroke-width')).toBe('0.18');
  });

  it.each([
    ['on a cylinder', capScene, numberBlocks('12/90')],
    ['on a cone', barrelScene, words],
    ['across the seam', { ...capScene, viewAngle: 0 }, numberBlocks('12/90')],
  ] as const)('lies where the blocks lie, turned to the view: %s', (_, scene, blocks) => {
    const root = asXml(make('12/90', blocks, scene)).documentElement;
    const paths = [...roles(root, 'cut')[0]!.querySelectorAll('path:not([data-copy])')];
    expect(paths).toHaveLength(blocks.length);
    blocks.forEach((block, k) => {
      const drawn = numbersIn(paths[k]!.getAttribute('d')!);
      const points = block.lines.flatMap((line) => [...line.points]);
      expect(drawn).toHaveLength(points.length);
      for (let i = 0; i < points.length; i += 2) {
        // Through the surface itself and back, not by the motion under test.
        const place = scene.surface.toSurfaceNear(points[i]!, points[i + 1]!);
        const near = nearDeg(block.turn - scene.viewAngle) + place.angle;
        const [x, y] = scene.surface.toSheet(place.z, near);
        expect(Math.abs(drawn[i]! - x)).toBeLessThan(1e-4);
        expect(Math.abs(drawn[i + 1]! - y)).toBeLessThan(1e-4);
      }
    });
  });

  it('is drawn again at the other end of a picture whose seam it crosses', () => {
    const blocks = numberBlocks('12/90');
    const root = asXml(make('12/90', blocks, { ...capScene, viewAngle: 0 })).documentElement;
    const copies = roles(root, 'cut')[0]!.querySelectorAll('[data-copy]');
    const reaching = blocks.filter((block) => copiesOnPicture(capSurface, block, 0).length > 1);
    expect(copies.length).toBeGreaterThan(0);
    expect(copies).toHaveLength(reaching.length);
    expect(roles(sheet, 'cut')[0]!.querySelectorAll('[data-copy]')).toHaveLength(0);
  });

  it('is refused for a mark whose width is not known', () => {
    const strange = blocksOf(
      capSurface,
      'other',
      '1',
      3,
      { baseline: 'ring', reading: 'up' },
      { z: 20, angle: 0 },
    );
    expect(() => make('1', strange)).toThrow(RangeError);
  });
});

describe('strange labels and titles', () => {
  it.each(HOSTILE)('are inert: %j', (hostile) => {
    const odd = make(hostile, numberBlocks('1'), {
      ...capScene,
      bench: hostile,
      edition: hostile,
      part: { ...capScene.part, name: hostile },
      designs: [{ name: hostile, digest: 'ab'.repeat(32) }],
      marks: [{ ...capScene.marks[0]!, name: hostile, cutter: hostile }],
    });
    const root = asXml(odd).documentElement;
    expect(root.getElementsByTagName('script')).toHaveLength(0);
    expect(root.getAttribute('data-label')).toBe(stripIllegal(hostile));
    expect(roles(root, 'label')[0]!.textContent).toBe(displayText(hostile));
    // As many shapes and groups as with a plain name: nothing anyone wrote became an element.
    const shapes = (one: Element): number => one.querySelectorAll(':not(text, tspan)').length;
    expect(shapes(root)).toBe(shapes(asXml(make('1', numberBlocks('1'))).documentElement));
    expect(odd).not.toMatch(/[\u202a-\u202e\u2066-\u2069]/);
  });
});

describe('same input, same bytes', () => {
  it('twice, elsewhere and at another time', () => {
    for (const method of ['toLocaleString', 'localeCompare'] as const) {
      const never = () => {
        throw new Error(`${method} was called`);
      };
      if (method === 'toLocaleString') vi.spyOn(Number.prototype, method).mockImplementation(never);
      else vi.spyOn(String.prototype, method).mockImplementation(never);
    }
    vi.spyOn(Math, 'random').mockImplementation(() => {
      throw new Error('chance was asked');
    });
    const zone = process.env.TZ;
    process.env.TZ = 'Pacific/Kiritimati';
    expect(make('12/90', numberBlocks('12/90'))).toBe(text);
    process.env.TZ = zone ?? 'UTC';
    expect(make('12/90', numberBlocks('12/90'))).toBe(text);
  });

  it('as kept', async () => {
    await expect(text).toMatchFileSnapshot('../fixtures/sheets/cap-12-90.svg');
  });

  it('without drawing an element for each piece', () => {
    let made = 0;
    const counting = {
      document: {
        createElementNS: (namespace: string, name: string) => {
          made++;
          return canvas.document.createElementNS(namespace, name);
        },
      },
    } as unknown as Canvas;
    const write = sheetWriter(counting, capScene);
    const written = (n: number) => joinChunks(write(`${n}/90`, numberBlocks(`${n}/90`)));
    written(1);
    const before = made;
    for (let n = 1; n <= 90; n++) expect(written(n)).toContain(`data-label="${n}/90"`);
    expect(before).toBeGreaterThan(0);
    expect(made).toBe(before);
  });
});
