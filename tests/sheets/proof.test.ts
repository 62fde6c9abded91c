import { describe, expect, it } from 'vitest';
import { area } from '../../src/geometry/polygons.js';
import { stripIllegal } from '../../src/sheets/display-text.js';
import { type ProofScene, writeProof } from '../../src/sheets/proof.js';
import { freeRegion } from '../../src/surface/free-region.js';
import { joinChunks } from '../../src/text-chunks.js';
import { asXml, HOSTILE, numbersIn, roles } from './drawn.js';
import { canvas, capScene, capSurface, numberBlocks, proofScene } from './lantern-coast.js';

const proofSheet = (scene: ProofScene) => joinChunks(writeProof(canvas, scene));
const text = proofSheet(proofScene);
const proof = asXml(text).documentElement;

describe('a proof', () => {
  it('has its size in mm and in the viewBox alike', () => {
    const [width, height] = ['width', 'height'].map((n) => proof.getAttribute(n)!.replace('mm', ''));
    expect(proof.getAttribute('viewBox')).toBe(`0 0 ${width} ${height}`);
  });

  it('shows every surface with keep-outs, free region and scale', () => {
    expect(roles(proof, 'surface')).toHaveLength(2);
    expect(roles(proof, 'free')).toHaveLength(2);
    expect(roles(proof, 'scale')).toHaveLength(2);
    expect(proof.textContent).toContain('drawn 2 : 1');
    const data = roles(proof, 'free')[0]!.querySelector('path')!.getAttribute('d')!;
    const rings = data
      .split('Z')
      .filter(Boolean)
      .map((d) => Float64Array.from(numbersIn(d)));
    expect(area(rings)).toBeCloseTo(area(freeRegion(capSurface, capScene.obstacles, capScene.viewAngle)), 2);
  });

  it('shows the whole edition, number by number, and each in its series', () => {
    const labels = roles(proof, 'number').map((e) => e.getAttribute('data-label'));
    expect(labels).toEqual(proofScene.series.flatMap((s) => s.numbers.map((n) => n.label)));
    expect(labels).toHaveLength(99);
    expect(roles(proof, 'gallery').map((e) => e.getAttribute('data-series'))).toEqual([
      'Numbered edition',
      "Artist's proofs",
    ]);
    for (const label of labels) expect(proof.textContent).toContain(label);
  });

  it('shows of a very large series the first numbers and the last, and says how many are left out', () => {
    const [one] = proofScene.series;
    const numbers = Array.from({ length: 6000 }, (_, i) => ({
      ...one!.numbers[i % 90]!,
      label: `${i + 1}/6000`,
    }));
    const [first, ...others] = proofScene.surfaces;
    const pieces = numbers.map(({ label }) => ({ label, blocks: first!.pieces[0]!.blocks }));
    const surfaces = [{ ...first!, pieces, widest: '6000/6000' }, ...others];
    const large = proofSheet({ ...proofScene, surfaces, series: [{ ...one!, numbers }] });
    // As text: thousands of drawings take long to become elements.
    const labels = [...large.matchAll(/ data-role="number" data-label="([^"]+)"/g)].map(([, label]) => label);
    expect(labels).toHaveLength(5000);
    expect([labels[0], labels.at(-1)]).toEqual(['1/6000', '6000/6000']);
    expect(large).toContain('6000 pieces, 1000 of them not shown');
  });

  it('lays every label at its place faint, and the widest solid', () => {
    const [all] = roles(proof, 'cut-all');
    const keys = new Set(proofScene.surfaces[0]!.pieces.flatMap((p) => p.blocks.map((b) => b.key)));
    expect(all!.querySelectorAll('path')).toHaveLength(keys.size);
    const [solid] = roles(proof, 'cut');
    expect(solid!.getAttribute('data-label')).toBe('AP VIII/IX');
    expect(solid!.getAttribute('stroke-opacity')).toBeNull();
  });

  it('draws a number in its tile as it is cut, turned to be read', () => {
    const series = proofScene.series[0]!;
    for (const [direction, quarters] of [
      [{ baseline: 'ring', reading: 'up' }, 0],
      [{ baseline: 'ring', reading: 'down' }, 180],
      [{ baseline: 'lengthwise', reading: 'up' }, 270],
      [{ baseline: 'lengthwise', reading: 'down' }, 90],
    ] as const) {
      const one = { ...series, direction, numbers: [{ label: '1', blocks: numberBlocks('1') }] };
      const [tile] = roles(asXml(proofSheet({ ...proofScene, series: [one] })), 'number');
      expect(tile!.getAttribute('transform')).toContain(`rotate(${quarters})`);
    }
  });

  it('leaves room to sign, and says which designs are signed for', () => {
    for (const words of ['Approved by', 'For the bench', 'Date', ...proofScene.designs.map((d) => d.digest)])
      expect(proof.textContent).toContain(words);
  });

  it('stands without surfaces, numbers or designs', () => {
    const bare = proofSheet({ bench: '', edition: '', designs: [], surfaces: [], series: [] });
    expect(asXml(bare).documentElement.localName).toBe('svg');
  });

  it.each(HOSTILE)('is not moved by %j', (hostile) => {
    const odd = proofSheet({
      bench: hostile,
      edition: hostile,
      designs: [{ name: hostile, digest: 'ab'.repeat(32) }],
      surfaces: [
        {
          ...proofScene.surfaces[0]!,
          pieces: [{ label: hostile, blocks: numberBlocks('1') }],
          widest: hostile,
        },
      ],
      series: [
        {
          ...proofScene.series[0]!,
          title: hostile,
          numbers: [{ label: hostile, blocks: numberBlocks('1') }],
        },
      ],
    });
    const root = asXml(odd).documentElement;
    expect(root.getElementsByTagName('script')).toHaveLength(0);
    expect(roles(root, 'number').map((e) => e.getAttribute('data-label'))).toEqual([stripIllegal(hostile)]);
    expect(roles(root, 'cut')[0]!.querySelectorAll('path')).toHaveLength(1);
  });

  it('is the same bytes twice', () => {
    expect(proofSheet(proofScene)).toBe(text);
  });
});
