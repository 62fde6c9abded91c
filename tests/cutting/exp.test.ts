import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { test } from 'vitest';
import { blockMoves } from '../../src/cutting/block-moves.js';
import { cutLines } from '../../src/cutting/strategies.js';
import { seenFaults } from '../../src/cutting/seen-cut.js';
import { flatten } from '../../src/geometry/flatten.js';
import { outlineFont } from '../../src/lettering/outline-font.js';
import { strokeFont } from '../../src/lettering/stroke-font.js';
import { cylinder } from '../../src/surface/cylinder.js';

const CH = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789/.,-&@%#ÄÖÜäöüéèñßøæœ';
const surface = cylinder('s', -20, 20, 6);
test('x', () => {
  const fonts: [string, any][] = [];
  for (const f of ['burin-plain', 'burin-roman']) fonts.push([f, ((r: any) => r.font)(strokeFont(f, readFileSync('fonts/' + f + '.svg', 'utf8')))]);
  for (const [n, f] of [['garamond', '@fontsource/eb-garamond/files/eb-garamond-latin-500-normal.woff'], ['jost', '@fontsource/jost/files/jost-latin-400-normal.woff'], ['cormorant', '@fontsource/cormorant-garamond/files/cormorant-garamond-latin-600-normal.woff']] as const) {
    const r = outlineFont(n, readFileSync(createRequire(import.meta.url).resolve(f)));
    if (r.ok) fonts.push([n, r.font]);
  }
  const run = (name: string, font: any, way: any, cutter: any, depth: number, size: number) => {
    const t0 = performance.now(); let n = 0;
    const out: string[] = [];
    for (const c of CH) {
      const g = font.glyph(c, 'proportional'); if (!g) continue;
      const paths = flatten(g.path, size, 0.0008);
      if (!paths.length) continue;
      const filled = font.kind === 'outline' && !g.stroked;
      let cut;
      try { cut = cutLines(paths, filled, { way, cutter, depth, passes: [depth] } as any); } catch (e: any) { out.push(c + ':' + e.message); continue; }
      const area = cut.area;
      const block = { key: c, mark: 'm', name: c, turn: 0, lines: cut.lines, ...(area ? { area } : {}), depth, passes: [depth] };
      const faults = seenFaults({ surface, setup: 'level', cutter }, blockMoves(surface, block as any), block as any, size);
      n++;
      if (faults.length) out.push(`${c}:${faults.map((f) => f.kind).join('+')}`);
    }
    console.log(name, way, cutter.shape, JSON.stringify(cutter.width ?? cutter.diameter ?? [cutter.tip, cutter.angle]), 'depth', depth, 'size', size, `${((performance.now() - t0) / n).toFixed(0)} ms/glyph`, '\n   ', out.join(' '));
  };
  const drag = (width: number) => ({ shape: 'drag', width });
  const cone = (tip: number, angle: number) => ({ shape: 'cone', tip, angle });
  const ball = (diameter: number) => ({ shape: 'ball', diameter });
  const flat = (diameter: number) => ({ shape: 'flat', diameter });
  for (const [n, f] of fonts) {
    if (f.kind !== 'outline') {
      for (const [w, s] of [[0.12, 1.2], [0.12, 2], [0.2, 1.5], [0.3, 1.5], [0.54, 2]]) run(n, f, 'trace', drag(w!), 0.08, s!);
    } else {
      run(n, f, 'trace', drag(0.05), 0.05, 2.5);
      run(n, f, 'trace', drag(0.12), 0.08, 2);
      run(n, f, 'groove', cone(0.05, 40), 0.2, 2.5);
      run(n, f, 'groove', cone(0.2, 60), 0.2, 2.5);
      run(n, f, 'clear', flat(0.1), 0.1, 2.5);
      run(n, f, 'clear', flat(0.2), 0.1, 2.5);
      run(n, f, 'clear', ball(0.6), 0.1, 2.5);
    }
  }
}, 600000);
