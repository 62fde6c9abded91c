/** Properties that children take from what holds them, with their first values. */
export const INHERITED: Readonly<Record<string, string>> = {
  fill: 'black',
  'fill-rule': 'nonzero',
  'fill-opacity': '1',
  stroke: 'none',
  'stroke-width': '1',
  'stroke-linecap': 'butt',
  'stroke-linejoin': 'miter',
  'stroke-miterlimit': '4',
  'stroke-dasharray': 'none',
  'stroke-dashoffset': '0',
  'stroke-opacity': '1',
  'clip-rule': 'nonzero',
  visibility: 'visible',
  color: 'black',
  'marker-start': 'none',
  'marker-mid': 'none',
  'marker-end': 'none',
};
/** Properties of an element alone. */
export const OWN: Readonly<Record<string, string>> = {
  display: 'inline',
  opacity: '1',
  transform: 'none',
  'clip-path': 'none',
  mask: 'none',
  filter: 'none',
  'vector-effect': 'none',
};

export const PROPERTIES: readonly string[] = [...Object.keys(INHERITED), ...Object.keys(OWN)];

/** Properties of style sheets that would change what is drawn, and are not read: they are told. */
export const NOT_READ: ReadonlySet<string> = new Set(
  'transform-origin transform-box translate rotate scale offset-path d cx cy r rx ry x y width height points marker clip mask-image'.split(
    ' ',
  ),
);
