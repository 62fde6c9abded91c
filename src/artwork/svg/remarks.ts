import { problem } from '../messages.js';
import type { Reading } from './reading.js';
import type { Element } from './tree.js';

const WITHOUT_LINES: ReadonlySet<string> = new Set('image text foreignObject video audio script'.split(' '));
const ANIMATIONS: ReadonlySet<string> = new Set(
  'animate animateTransform animateMotion animateColor set'.split(' '),
);

/** Remarks on an element of a kind that has nothing to cut; whether it is one. */
export function remarkOnUnread(reading: Reading, { name, where }: Element): boolean {
  if (ANIMATIONS.has(name)) reading.remark(problem('artwork.left-out-animation', where, {}));
  else if (WITHOUT_LINES.has(name))
    reading.remark(problem('artwork.left-out-element', where, { kind: name }));
  else return false;
  return true;
}

/** What browsers can draw beside SVG. */
const EXTENSIONS = /^(?:http:\/\/www\.w3\.org\/1999\/xhtml|http:\/\/www\.w3\.org\/1998\/Math\/MathML)$/;

/** Whether a browser has the extensions an element asks for; it has none for an empty list. */
export function hasExtensions({ attributes }: Element): boolean {
  const asked = attributes.get('requiredExtensions');
  return (
    asked === undefined ||
    asked
      .trim()
      .split(/[ \t\n\f\r]+/)
      .every((one) => EXTENSIONS.test(one))
  );
}

/** Whether an element is drawn, by its conditions: one for some languages is. Remarks on one that has any. */
export function remarkOnConditions(reading: Reading, element: Element): boolean {
  const { attributes, parent, where } = element;
  if (!hasExtensions(element)) {
    reading.remark(problem('artwork.conditional', where, {}));
    return false;
  }
  if (attributes.has('systemLanguage') && parent?.name !== 'switch')
    reading.remark(problem('artwork.other-language', where, { drawn: 'yes' }));
  return true;
}
