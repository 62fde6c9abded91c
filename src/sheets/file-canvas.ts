import type { Canvas } from './svg-canvas.js';

/**
 * A canvas for files: an XML document of jsdom's, so that what is drawn is written as XML and not as HTML. jsdom is
 * loaded when the first is asked for, since that takes longer than most commands.
 */
export async function fileCanvas(): Promise<Canvas> {
  const { JSDOM } = await import('jsdom');
  const { window } = new JSDOM('<svg xmlns="http://www.w3.org/2000/svg"/>', {
    contentType: 'image/svg+xml',
  });
  return { document: window.document };
}
