import { JSDOM, VirtualConsole } from 'jsdom';

/** Strings a label must survive as. */
export const HOSTILE: readonly string[] = [
  ')',
  'line\nbreak',
  '%',
  ';',
  '<script>alert(1)</script>',
  ']]>',
  '<![CDATA[x',
  '&lt;',
  '=1+1',
  '../',
  `"&'<>`,
  '\u202e09/21',
  'nul\u0000',
  '-->',
  '<g data-hole="cuts"/>',
  ' data-hole="label"',
  '\u2066x\u2069',
  '\ud800',
  '\uffff',
];

/** Read as XML, as a strict reader would: a mistake throws. */
export const asXml = (text: string): Document =>
  new JSDOM(text, { contentType: 'image/svg+xml' }).window.document;
/** Its own console: jsdom's style reader does not know the margin boxes of a page, and says so at length. */
export const asHtml = (text: string): Document =>
  new JSDOM(text, { virtualConsole: new VirtualConsole() }).window.document;

export const roles = (root: Document | Element, role: string): Element[] => [
  ...root.querySelectorAll(`[data-role="${role}"]`),
];

export const numbersIn = (d: string): number[] => (d.match(/-?\d+(\.\d+)?/g) ?? []).map(Number);
