import { describe, expect, it } from 'vitest';
import { addElement, addSlot, emptySvg, setText, slot, toXml } from '../../src/sheets/svg-canvas.js';
import { elementTemplate, templateOf } from '../../src/sheets/svg-template.js';
import { joinChunks } from '../../src/text-chunks.js';
import { asXml, HOSTILE } from './drawn.js';
import { canvas } from './lantern-coast.js';

describe('a template', () => {
  it('fills attributes and content, text escaped and markup as it is', () => {
    const one = elementTemplate<'name' | 'text' | 'inside'>(canvas, (parent) => {
      const group = addElement(parent, 'g', { 'data-name': slot('name') });
      setText(addElement(group, 'text'), slot('text'));
      addSlot(group, 'inside');
    });
    const values = { name: '"<a>"', text: 'x & y', inside: { markup: ['<path/>', '<path/>'] } };
    const xml = '<g data-name="&quot;&lt;a&gt;&quot;"><text>x &amp; y</text><path/><path/></g>';
    expect(one.write(values)).toBe(xml);
    expect(joinChunks(one.fill(values))).toBe(xml);
  });

  it('shares the chunks between its slots', () => {
    const one = templateOf<'a'>('<g x="&#x9;a&#x9;"/>');
    const [first, second] = [[...one.fill({ a: '1' })], [...one.fill({ a: '2' })]];
    expect(first[0]).toBe(second[0]);
    expect(first[2]).toBe(second[2]);
  });

  it.each([...HOSTILE, '\tname\t', '&#x9;name&#x9;'])('takes no text for a slot: %j', (hostile) => {
    const svg = emptySvg(canvas);
    const group = addElement(svg, 'g', { 'data-fixed': hostile, 'data-name': slot('name') });
    setText(addElement(group, 'text'), hostile);
    const written = templateOf<'name'>(toXml(svg)).write({ name: hostile });
    const read = asXml(written).querySelector('g')!;
    expect(read.querySelectorAll('*')).toHaveLength(1);
    expect(written.match(/data-name="/g)).toHaveLength(1);
    expect(templateOf(written.replaceAll('&#x9;', '')).write({})).toBe(written.replaceAll('&#x9;', ''));
  });
});

describe('a canvas', () => {
  it('has its elements in its own document, and no window is shared', async () => {
    const { fileCanvas } = await import('../../src/sheets/file-canvas.js');
    const other = await fileCanvas();
    const svg = emptySvg(other);
    expect(addElement(svg, 'g').node.ownerDocument).toBe(other.document);
    expect(other.document).not.toBe(canvas.document);
    expect((globalThis as { window?: unknown }).window).toBeUndefined();
  });
});
