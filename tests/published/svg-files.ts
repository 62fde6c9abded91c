/** Drawings made for a feature each, with what SVG 2 says they draw: path data, and its map to px of the viewport. */
export interface Made {
  readonly name: string;
  readonly text: string;
  /** In the order they are drawn. */
  readonly drawn: readonly (readonly [d: string, transform: string])[];
  /** Codes of the remarks it must get. */
  readonly told: readonly string[];
  /** Width and height of the viewport, px. */
  readonly size?: readonly [number, number];
}

const NS = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"';
const BOX = 'width="100" height="80" viewBox="0 0 100 80"';
const svg = (inner: string, more = BOX): string => `<svg ${NS} ${more}>${inner}</svg>`;
type Drawn = Made['drawn'];
const made = (name: string, inner: string, drawn: Drawn, told: readonly string[] = []): Made => ({
  name,
  text: svg(inner),
  drawn,
  told,
});
const same = (name: string, d: string): Made => made(name, `<path d="${d}"/>`, [[d, '']]);

/** SVG 2, 9.3: every command, in both cases, and the forms its grammar allows. */
const PATHS: readonly Made[] = Object.entries({
  'M L Z': 'M10 10L50 12L40 60Z',
  'm l z': 'm10 10l40 2l-10 48z',
  'H V': 'M10 10H60V50H20Z',
  'h v': 'm10 10h50v40h-40z',
  C: 'M10 40C10 5 60 -5 70 40C65 70 30 75 10 40Z',
  c: 'm10 40c0-35 50-45 60 0c-5 30-40 35-60 0z',
  S: 'M10 40C10 5 40 5 45 40S80 75 90 40Z',
  s: 'm10 40c0-35 30-35 35 0s35 35 45 0z',
  'S after a line': 'M10 10L20 30S60 70 80 20Z',
  Q: 'M10 40Q40 0 70 40Q50 70 10 40Z',
  q: 'm10 40q30-40 60 0q-20 30-60 0z',
  T: 'M10 40Q20 10 40 40T70 40T95 20Z',
  t: 'm10 40q10-30 30 0t30 0t25-20z',
  'T after a line': 'M10 10L20 30T60 70T80 20Z',
  'T after a cubic': 'M10 40C10 5 40 5 45 40T80 20Z',
  A: 'M20 40A20 15 30 1 1 60 45A25 25 0 0 1 20 40Z',
  a: 'm20 40a20 15 30 1 1 40 5a25 25 0 0 1-40-5z',
  'A small, against': 'M20 40A30 20 -40 0 0 60 45Z',
  'A small, with': 'M20 40A30 20 -40 0 1 60 45Z',
  'A large, against': 'M20 40A30 20 -40 1 0 60 45Z',
  'A of radii too small': 'M20 40A5 3 20 0 1 70 45Z',
  'A of a radius below nothing': 'M20 40A-30 -20 10 0 1 60 45Z',
  'A of no radius': 'M20 40A0 20 10 0 1 60 45L40 70Z',
  'A to where it stands': 'M20 40A9 9 0 1 1 20 40L60 45L30 70Z',
  'A a whole turn but a hair': 'M50 40A20 20 0 1 1 50 40.001Z',
  'moves that go on as lines': 'M10 10 50 12 40 60Zm5 5 10 1-3 9z',
  'repeated commands': 'M10 10C10 5 40 5 45 40 50 60 80 60 90 20Q60 0 40 8 20 12 10 10z',
  'figures run together': 'M10.5.5-.5 40 1e1 60.5.25.5z',
  'figures with signs and powers': 'm+1.0e+1-5E-1L5e1,+12 4.0e1 60z',
  'commas and new lines': 'M 10,10\n\tL 50 ,12 , 40, 60\r\nZ',
  'two subpaths': 'M10 10h60v50h-60zM20 20v20h20v-20z',
  'a line after a closing': 'M10 10h60v50zl20 40h-10z',
  'not closed': 'M10 10C10 5 60 5 70 40L30 70',
})
  .map(([name, d]) => same(`path ${name}`, d))
  .concat(
    // paper.js does not read flags that run together: it is given the same path with spaces between them.
    made('path flags run together', '<path d="M20 40a20 15 30 1140 5a25 25 0 01-40-5z"/>', [
      ['M20 40a20 15 30 1 1 40 5a25 25 0 0 1-40-5z', ''],
    ]),
  );

/** SVG 2, 9.3.9: what is drawn up to a fault is drawn. */
const FAULTS: readonly Made[] = (
  [
    ['a word', 'M10 10L50 12L40 60L', 'M10 10L50 12L40 60'],
    ['half a curve', 'M10 10L50 12L40 60C1 2 3', 'M10 10L50 12L40 60'],
    ['a flag of 2', 'M10 10L50 12L40 60A5 5 0 2 1 20 20', 'M10 10L50 12L40 60'],
    ['an unknown command', 'M10 10L50 12L40 60X5 5', 'M10 10L50 12L40 60'],
  ] as const
).map(([name, d, read]) =>
  made(`fault: ${name}`, `<path d="${d}"/>`, [[read, '']], ['artwork.unread-path-data']),
);

const round = (x: number, y: number, w: number, h: number, rx: number, ry: number): string =>
  `M${x + rx} ${y}H${x + w - rx}A${rx} ${ry} 0 0 1 ${x + w} ${y + ry}V${y + h - ry}A${rx} ${ry} 0 0 1 ${x + w - rx} ${y + h}H${x + rx}A${rx} ${ry} 0 0 1 ${x} ${y + h - ry}V${y + ry}A${rx} ${ry} 0 0 1 ${x + rx} ${y}Z`;
const oval = (x: number, y: number, rx: number, ry: number): string =>
  `M${x + rx} ${y}A${rx} ${ry} 0 1 1 ${x - rx} ${y}A${rx} ${ry} 0 1 1 ${x + rx} ${y}Z`;

/** SVG 2, 10: the shapes and the paths they are. */
const SHAPES: readonly Made[] = (
  [
    ['rect', '<rect x="10" y="12" width="50" height="30"/>', 'M10 12h50v30h-50z'],
    ['rect rx ry', '<rect x="10" y="12" width="50" height="30" rx="8" ry="5"/>', round(10, 12, 50, 30, 8, 5)],
    ['rect rx', '<rect x="10" y="12" width="50" height="30" rx="8"/>', round(10, 12, 50, 30, 8, 8)],
    ['rect ry', '<rect x="10" y="12" width="50" height="30" ry="8"/>', round(10, 12, 50, 30, 8, 8)],
    [
      'rect rx too large',
      '<rect x="10" y="12" width="50" height="30" rx="40" ry="4"/>',
      round(10, 12, 50, 30, 25, 4),
    ],
    ['rect in per cent', '<rect x="10%" y="10%" width="50%" height="50%"/>', 'M10 8h50v40h-50z'],
    ['circle', '<circle cx="40" cy="35" r="20"/>', oval(40, 35, 20, 20)],
    ['ellipse', '<ellipse cx="40" cy="35" rx="30" ry="12"/>', oval(40, 35, 30, 12)],
    ['ellipse of one radius', '<ellipse cx="40" cy="35" rx="20"/>', oval(40, 35, 20, 20)],
    ['polyline', '<polyline points="10,10 60,15 30,70"/>', 'M10 10L60 15L30 70'],
    ['polygon', '<polygon points="10 10,60 15 30-7e-1"/>', 'M10 10L60 15L30 -.7Z'],
    [
      'rect in mm',
      '<rect x="1mm" y="2mm" width="12mm" height="7mm"/>',
      `M${96 / 25.4} ${192 / 25.4}h${1152 / 25.4}v${672 / 25.4}h${-1152 / 25.4}z`,
    ],
  ] as const
).map(([name, inner, d]) => made(`shape ${name}`, inner, [[d, '']]));

const LEAF = 'M10 10C20 0 40 5 30 25Q20 40 12 22Z';
/** CSS Transforms 1, 8 and SVG 2, 8.5. */
const TRANSFORMS: readonly Made[] = [
  'translate(12)',
  'translate(12,-3)',
  'scale(1.5)',
  'scale(1.5 -0.5)',
  'rotate(33)',
  'rotate(33 20 10)',
  'skewX(20)',
  'skewY(-15)',
  'matrix(.8 .3 -.2 1.1 4 5)',
  'translate(5 6) rotate(30) scale(2 .5)',
  'scale(-1 1),translate(-90 0)',
  'rotate(-7.5)skewX(3)\n translate(1e1,.5)',
].map((t) =>
  made(`transform ${t}`, `<path transform="${t}" d="${LEAF}"/>`, [[LEAF, t.replaceAll('\n', ' ')]]),
);
const NESTED: readonly Made[] = [
  made(
    'transforms within one another',
    `<g transform="rotate(20)"><g transform="scale(2 1)"><path transform="translate(3 4)" d="${LEAF}"/></g></g>`,
    [[LEAF, 'rotate(20) scale(2 1) translate(3 4)']],
  ),
  made('an arc skewed', `<g transform="skewX(30) scale(1 .6)"><circle cx="40" cy="35" r="20"/></g>`, [
    [oval(40, 35, 20, 20), 'skewX(30) scale(1 .6)'],
  ]),
];

/** SVG 2, 8.2: how a viewBox is laid in its viewport. */
const ASPECTS: readonly Made[] = ['Min', 'Mid', 'Max'].flatMap((x) =>
  ['Min', 'Mid', 'Max'].flatMap((y) =>
    ['meet', 'slice'].map((fit): Made => {
      const [w, h] = x === 'Mid' ? [200, 90] : [90, 200];
      const scale = fit === 'meet' ? Math.min(w / 50, h / 40) : Math.max(w / 50, h / 40);
      const part = { Min: 0, Mid: 0.5, Max: 1 } as Readonly<Record<string, number>>;
      const [dx, dy] = [part[x]! * (w - 50 * scale), part[y]! * (h - 40 * scale)];
      const attributes = `width="${w}" height="${h}" viewBox="-5 3 50 40" preserveAspectRatio="x${x}Y${y} ${fit}"`;
      return {
        name: `aspect x${x}Y${y} ${fit}`,
        text: svg(`<path d="${LEAF}"/>`, attributes),
        drawn: [[LEAF, `translate(${dx} ${dy}) scale(${scale}) translate(5 -3)`]],
        told: [],
        size: [w, h],
      };
    }),
  ),
);
const VIEWPORTS: readonly Made[] = (
  [
    [
      'aspect none',
      'width="200" height="90" viewBox="-5 3 50 40" preserveAspectRatio="none"',
      'scale(4 2.25) translate(5 -3)',
      200,
      90,
    ],
    [
      'size in mm',
      'width="50mm" height="40mm" viewBox="0 0 50 40"',
      `scale(${96 / 25.4})`,
      4800 / 25.4,
      3840 / 25.4,
    ],
    ['size in in', 'width="2in" height="1in"', '', 192, 96],
    [
      'size in cm',
      'width="5cm" height="4cm" viewBox="0 0 50 40"',
      `scale(${96 / 25.4})`,
      4800 / 25.4,
      3840 / 25.4,
    ],
    ['size in pt', 'width="75pt" height="60pt" viewBox="0 0 50 40"', 'scale(2)', 100, 80],
    ['size in pc', 'width="10pc" height="8pc" viewBox="0 0 80 64"', 'scale(2)', 160, 128],
    [
      'size in Q',
      'width="200Q" height="160Q" viewBox="0 0 50 40"',
      `scale(${96 / 25.4})`,
      4800 / 25.4,
      3840 / 25.4,
    ],
    ['no viewBox', 'width="90" height="70"', '', 90, 70],
  ] as const
).map(([name, more, map, w, h]) => ({
  name,
  text: svg(`<path d="${LEAF}"/>`, more),
  drawn: [[LEAF, map]] as const,
  told: [],
  size: [w, h] as const,
}));

/** SVG 2, 5: structure. */
const STRUCTURE: readonly Made[] = [
  made('use', `<defs><path id="a" d="${LEAF}"/></defs><use href="#a" x="20" y="5"/><use xlink:href="#a"/>`, [
    [LEAF, 'translate(20 5)'],
    [LEAF, ''],
  ]),
  made(
    'use with a transform',
    `<defs><path id="a" transform="rotate(9)" d="${LEAF}"/></defs><use href="#a" transform="scale(2)" x="7"/>`,
    [[LEAF, 'scale(2) translate(7 0) rotate(9)']],
  ),
  made(
    'use of a group of uses',
    `<defs><path id="a" d="${LEAF}"/><g id="b"><use href="#a"/><use href="#a" x="30"/></g></defs><use href="#b" y="30"/>`,
    [
      [LEAF, 'translate(0 30)'],
      [LEAF, 'translate(0 30) translate(30 0)'],
    ],
  ),
  made(
    'use of a symbol',
    `<symbol id="s" viewBox="0 0 50 50"><path d="${LEAF}"/></symbol><use href="#s" x="10" y="8" width="40" height="60"/>`,
    [[LEAF, 'translate(10 8) translate(0 10) scale(.8)']],
  ),
  made(
    'svg within svg',
    `<svg x="10" y="5" width="60" height="60" viewBox="0 0 30 40"><path d="${LEAF}"/></svg>`,
    [[LEAF, 'translate(10 5) translate(7.5 0) scale(1.5)']],
  ),
  made('switch', `<switch><path d="${LEAF}"/><path d="M0 0h9v9z"/></switch>`, [[LEAF, '']]),
  made(
    'switch with what only some programs draw',
    `<switch><foreignObject requiredExtensions="urn:x"/><g><path d="${LEAF}"/></g></switch>`,
    [[LEAF, '']],
  ),
  made(
    'switch of languages',
    `<switch><path systemLanguage="xx" d="M0 0h9v9z"/><path d="${LEAF}"/></switch>`,
    [[LEAF, '']],
    ['artwork.other-language'],
  ),
  made('defs alone', `<defs><path d="${LEAF}"/></defs>`, []),
  made('a link', `<a href="#x"><path d="${LEAF}"/></a>`, [[LEAF, '']]),
];

const SQUARE = 'M50 50h9v9h-9z';
const two = `<path id="p" class="a b" d="${LEAF}"/><path d="${SQUARE}"/>`;
const styled = (name: string, css: string, drawn: Drawn): Made =>
  made(`style ${name}`, `<style>${css}</style>${two}`, drawn);
/** CSS: which of the two shapes are still drawn. */
const STYLES: readonly Made[] = [
  styled('by class', '.a{display:none}', [[SQUARE, '']]),
  styled('by id', '#p{fill:none}', [[SQUARE, '']]),
  styled('by name', 'path{visibility:hidden}', []),
  styled('by compound', 'path.a.b{fill:none}path.a.c{fill:red}', [[SQUARE, '']]),
  styled('the more particular', '#p{fill:red}.a{fill:none}path{fill:none}', [[LEAF, '']]),
  styled('the later', '.a{fill:none}.b{fill:red}', [
    [LEAF, ''],
    [SQUARE, ''],
  ]),
  styled('important', '.a{fill:none!important}#p{fill:red}', [[SQUARE, '']]),
  styled('child and descendant', 'svg>path.a{fill:none}g path{fill:none}', [[SQUARE, '']]),
  made('style over attribute', `<path fill="none" style="fill:red" d="${LEAF}"/>`, [[LEAF, '']]),
  made('a transform', `<path style="transform:translate(10px,5px) rotate(20deg)" d="${LEAF}"/>`, [
    [LEAF, 'translate(10 5) rotate(20)'],
  ]),
  made(
    'important over important',
    `<style>path{fill:none!important}</style><path style="fill:red!important" d="${LEAF}"/>`,
    [[LEAF, '']],
  ),
  made('opacity 0', `<g opacity="0"><path d="${LEAF}"/></g><path d="${SQUARE}"/>`, [[SQUARE, '']]),
  made(
    'visible within hidden',
    `<g visibility="hidden"><path d="${LEAF}"/><path visibility="visible" d="${SQUARE}"/></g>`,
    [[SQUARE, '']],
  ),
  made(
    'inherited and currentColor',
    `<g fill="none" color="red"><path d="${LEAF}"/><path fill="currentColor" d="${SQUARE}"/></g>`,
    [[SQUARE, '']],
  ),
  made('white', `<path fill="white" d="${LEAF}"/>`, [[LEAF, '']]),
];

const shape = `<path d="${LEAF}"/>`;
/** What no cutter can follow: each must be listed. */
const LEFT: readonly Made[] = (
  [
    ['image', `<image href="a.png" width="9" height="9"/>${shape}`, 'artwork.left-out-element'],
    ['text', `<text x="5" y="9">a</text>${shape}`, 'artwork.left-out-element'],
    ['foreignObject', `<foreignObject width="9" height="9"/>${shape}`, 'artwork.left-out-element'],
    ['filter', `<filter id="f"/><path filter="url(#f)" d="${LEAF}"/>`, 'artwork.left-out-effect'],
    ['mask', `<mask id="m"/><path mask="url(#m)" d="${LEAF}"/>`, 'artwork.left-out-effect'],
    [
      'gradient',
      `<linearGradient id="l"><stop/></linearGradient><path fill="url(#l)" d="${LEAF}"/>`,
      'artwork.plain-paint',
    ],
    [
      'pattern',
      `<pattern id="l" width="1" height="1"><path d="M0 0h1v1z"/></pattern><path fill="url(#l)" d="${LEAF}"/>`,
      'artwork.plain-paint',
    ],
    [
      'marker',
      `<marker id="k"><path d="M0 0h1v1z"/></marker><path marker-end="url(#k)" d="${LEAF}"/>`,
      'artwork.left-out-effect',
    ],
    [
      'animate',
      `<path d="${LEAF}"><animate attributeName="opacity" to="1" dur="1s"/></path>`,
      'artwork.left-out-animation',
    ],
    ['script', `<script>0</script>${shape}`, 'artwork.left-out-element'],
    ['a style that is not read', `<style>path:hover{fill:red}</style>${shape}`, 'artwork.unread-rule'],
    ['an element not known', `<sparkle/>${shape}`, 'artwork.left-out-element'],
    [
      'a picture brought by use',
      `<defs><image id="i" href="a.png"/></defs><use href="#i"/>${shape}`,
      'artwork.left-out-element',
    ],
    [
      'a clip within a clip',
      `<clipPath id="c"><rect width="90" height="70" clip-path="url(#d)"/></clipPath><clipPath id="d"><rect width="9" height="9"/></clipPath><path clip-path="url(#c)" d="${LEAF}"/>`,
      'artwork.unread-clip',
    ],
    [
      'dashes below nothing',
      `<path stroke="red" stroke-dasharray="3 -2" d="${LEAF}"/>`,
      'artwork.unread-value',
    ],
  ] as const
).map(([name, inner, what]) => made(`left out: ${name}`, inner, [[LEAF, '']], [what]));

export const MADE: readonly Made[] = [
  ...PATHS,
  ...FAULTS,
  ...SHAPES,
  ...TRANSFORMS,
  ...NESTED,
  ...ASPECTS,
  ...VIEWPORTS,
  ...STRUCTURE,
  ...STYLES,
  ...LEFT,
];
