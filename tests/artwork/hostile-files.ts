/** Drawings meant to do harm, or broken in ways that have done harm. Each is a name and what makes its text. */
export type Hostile = readonly [name: string, text: () => string];

const NS = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"';
export const svg = (inner: string, more = 'viewBox="0 0 100 100"'): string =>
  `<svg ${NS} ${more}>${inner}</svg>`;
const many = (n: number, one: string): string => one.repeat(n);
const path = (d: string): string => svg(`<path d="${d}"/>`);
const SQUARE = '<path d="M10 10h20v20h-20z"/>';
const bomb = (levels: number, fan: number): string =>
  svg(
    `<defs><rect id="u0" width="1" height="1"/>${Array.from(
      { length: levels },
      (_, k) => `<g id="u${k + 1}">${many(fan, `<use href="#u${k}"/>`)}</g>`,
    ).join('')}</defs><use href="#u${levels}"/>`,
  );

const copies = (n: number): string => many(n, '<use href="#a"/>');
const row = (n: number, one: (k: number) => string): string =>
  Array.from({ length: n }, (_, k) => one(k)).join('');
/** Lines to and fro, from one side to another that none of them repeats. */
const scribble = (n: number): string => `M0 0${row(n, (k) => `L${(k * 7919) % 100} ${(k * 104_729) % 97}`)}z`;

/** Each must be refused in one line. */
export const REFUSED: readonly Hostile[] = [
  ['nothing', () => ''],
  ['only white space', () => ' \n\t '],
  ['plain words', () => 'a drawing'],
  ['another kind of XML', () => '<html><body/></html>'],
  ['cut off in the middle', () => svg(SQUARE).slice(0, -12)],
  ['tags that cross', () => svg('<g><a></g></a>')],
  ['two roots', () => `${svg('')}${svg('')}`],
  ['an attribute twice', () => svg('<path d="M0 0h1" d="M0 0h2"/>')],
  ['an attribute without quotes', () => svg('<path d=M0/>')],
  ['null bytes', () => svg('<path d="M0 0\0h10"/>')],
  ['UTF-16 read as bytes', () => [...svg(SQUARE)].join('\0')],
  ['a lone ampersand', () => svg('<text>a & b</text>')],
  ['a prefix never bound', () => svg('<foo:path d="M0 0h1v1z"/>')],
  ['a number of no character', () => svg('<text>&#xFFFFFFFF;</text>')],
  [
    'entities that multiply',
    () => {
      const rows = Array.from({ length: 9 }, (_, k) => `<!ENTITY e${k + 1} "${many(10, `&e${k};`)}">`);
      return `<!DOCTYPE svg [<!ENTITY e0 "ha">${rows.join('')}]>${svg('<text>&e9;</text>')}`;
    },
  ],
  [
    'one long entity used often',
    () =>
      `<!DOCTYPE svg [<!ENTITY a "${many(100_000, 'a')}">]>${svg(`<text>${many(100_000, '&a;')}</text>`)}`,
  ],
  [
    'an entity of a file',
    () => `<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/hosts">]>${svg('<text>&x;</text>')}`,
  ],
  [
    'an entity of an address',
    () => `<!DOCTYPE svg [<!ENTITY x SYSTEM "http://127.0.0.1:9/x">]>${svg('<text>&x;</text>')}`,
  ],
  [
    'an entity of itself',
    () => `<!DOCTYPE svg [<!ENTITY x "&y;"><!ENTITY y "&x;">]>${svg('<text>&x;</text>')}`,
  ],
  ['a hundred thousand groups deep', () => svg(many(100_000, '<g>') + many(100_000, '</g>'))],
  ['a million groups opened', () => `<svg ${NS}>${many(1_000_000, '<g>')}`],
  ['a million shapes', () => svg(many(1_000_000, '<line/>'))],
  ['thirty million characters', () => svg(`<!--${many(30_000_000, 'x')}-->`)],
  ['ten million points', () => path(`M0 0${many(10_000_000, 'h1')}`)],
  ['three million points', () => path(`M0 0${many(3_000_000, 'h1')}`)],
  ['uses of uses, ten to the tenth', () => bomb(10, 10)],
  ['uses of uses, two to the hundredth', () => bomb(100, 2)],
  [
    'clips that clip one another',
    () =>
      svg(
        '<clipPath id="a" clip-path="url(#b)"><rect width="9" height="9"/></clipPath>' +
          '<clipPath id="b" clip-path="url(#a)"><rect width="9" height="9"/></clipPath>' +
          '<g clip-path="url(#a)"><path d="M1 1h5v5z"/></g>',
      ),
  ],
  [
    'a million dashes',
    () => svg(`<path stroke="red" stroke-dasharray="${many(1_000_000, '1 ')}" d="M0 0h90"/>`),
  ],
  ['a transform never closed', () => svg(`<g transform="${many(100_000, 'rotate(')}">${SQUARE}</g>`)],
  ['a transform of many parts', () => svg(`<g transform="${many(300_000, 'rotate(1)')}">${SQUARE}</g>`)],
  ['long figures that hide', () => svg(`<g fill="${many(1_000_000, 'A')}">${many(20_000, SQUARE)}</g>`)],
  [
    'hidden lines used often',
    () => svg(`<path id="a" visibility="hidden" d="M0 0${many(100_000, 'h1')}"/>${copies(1_000)}`),
  ],
  ['a polygon of a million points and a word', () => svg(`<polygon points="${many(1_000_000, '1 2 ')}x"/>`)],
  ['a line of nine million figures', () => svg(`<polyline points="${many(4_500_000, '1 2 ')}"/>`)],
  [
    'an element of many classes',
    () => svg(`<path id="a" class="${row(100_000, (k) => `c${k} `)}"/>${copies(9_000)}`),
  ],
  ['empty groups used often', () => svg(`<g id="a">${many(10_000, '<g/>')}</g>${copies(1_000)}`)],
  [
    'a long clip on many shapes',
    () =>
      svg(
        `<clipPath id="c"><path d="M0 0${many(100_000, 'h1')}"/></clipPath>${many(1_000, '<path clip-path="url(#c)" d="M1 1h5v5z"/>')}`,
      ),
  ],
  [
    'clips fitted to boxes in boxes',
    () =>
      svg(
        `<clipPath id="c" clipPathUnits="objectBoundingBox"><rect width="1" height="1"/></clipPath>${many(190, '<g clip-path="url(#c)">')}${many(10_000, SQUARE)}${many(190, '</g>')}`,
      ),
  ],
  [
    'many styles of many shapes',
    () =>
      svg(row(100_000, (k) => `<path style="fill:red;--a${k}:1;${many(9, 'stroke:none;')}" d="M0 0h1"/>`)),
  ],
  ['copies within groups within copies', () => nested(29, 190)],
  [
    'siblings counted again and again',
    () => svg(`<style>path:nth-child(7n+3){fill:none}</style>${many(20_000, SQUARE)}`),
  ],
  ['commands of nothing but zeros', () => path(`M0 0${many(4_000_000, 'h0 ')}`)],
  [
    'many rules for many elements',
    () => svg(`<style>${many(20_000, '.a .b .c path{fill:red}')}</style>${many(2_000, SQUARE)}`),
  ],
];

/** Groups and copies within one another: as many levels as `uses` times `groups`. */
const nested = (uses: number, groups: number): string =>
  svg(
    `<defs>${row(uses, (k) => {
      const inner = k === 0 ? SQUARE : `<use href="#n${k - 1}"/>`;
      return `<g id="n${k}">${many(groups, '<g>')}${inner}${many(groups, '</g>')}</g>`;
    })}</defs><use href="#n${uses - 1}"/>`,
  );
const sine = (n: number): string =>
  `M0 50${row(n, (k) => `L${((100 * k) / n).toFixed(5)} ${(50 + 30 * Math.sin((400 * k) / n)).toFixed(4)}`)}`;
/** An outline that goes to and fro across the middle, and no farther. */
const comb = (n: number): string =>
  `M0 90${row(n, (k) => `L${((100 * k) / n).toFixed(5)} ${k % 2 === 0 ? 20 : 80}`)}L100 90z`;

/** Each must be read, and refused in one line when its areas are asked for. */
export const TANGLED: readonly Hostile[] = [
  [
    'a clip that is a scribble',
    () =>
      svg(
        `<clipPath id="c"><path d="${scribble(10_000)}"/></clipPath><path clip-path="url(#c)" d="M1 1h50v50z"/>`,
      ),
  ],
  ['a scribble by even and odd', () => svg(`<path fill-rule="evenodd" d="${scribble(10_000)}"/>`)],
  [
    'a lattice of bars',
    () =>
      svg(
        row(1_000, (k) =>
          k % 2 === 0
            ? `<rect y="${k / 10}" width="100" height=".05"/>`
            : `<rect x="${k / 10}" height="100" width=".05"/>`,
        ),
      ),
  ],
  [
    'circles upon circles',
    () => svg(row(2_000, (k) => `<circle cx="${(k * 7) % 100}" cy="${(k * 13) % 97}" r="9"/>`)),
  ],
  [
    'a comb of long threads',
    () =>
      path(
        `M0 0${Array.from({ length: 60_000 }, (_, k) => `L${k % 2 === 0 ? 99 : 1} ${k / 1000}`).join('')}z`,
      ),
  ],
  [
    'shapes over the edge',
    () => svg(row(25_000, (k) => `<circle cx="${(k % 2) * 100}" cy="${k / 250}" r=".003"/>`)),
  ],
  [
    'a scribble with a fine pen',
    () => svg(`<path fill="none" stroke="red" stroke-width=".1" d="${scribble(600)}"/>`),
  ],
  [
    'to and fro with a wide pen',
    () =>
      svg(
        `<path fill="none" stroke="red" stroke-linejoin="round" stroke-width="20" d="M0 0${row(2_000, (k) => `L${k % 2 === 0 ? 90 : 5} ${k / 25}`)}"/>`,
      ),
  ],
  ['a scribble of ten thousand lines', () => path(scribble(10_000))],
  [
    'a stroke of half a million points, dense',
    () => svg(`<path fill="none" stroke="red" stroke-width="1" d="${sine(499_000)}"/>`),
  ],
  [
    'half a million curves, each across the drawing',
    () => path(`M0 0${row(250_000, (k) => `Q${(k * 7919) % 9973} ${(k * 104_729) % 9967} ${k % 97} 0`)}`),
  ],
  [
    'a curve of a million km',
    () =>
      svg('<g transform="scale(1000)"><path d="M0 0C9000 9000 0 9000 9000 0Q4 9000 0 9"/></g>'.repeat(900)),
  ],
  [
    'round corners wider than the world',
    () =>
      svg(`<path fill="none" stroke="red" stroke-linejoin="round" stroke-width="1e7" d="${scribble(200)}"/>`),
  ],
];

/** Each must be read, and its lines followed: lines of a stroke, whatever they cross. */
export const FOLLOWED: readonly Hostile[] = [
  ['a stroke of 150,000 points', () => svg(`<path fill="none" stroke="red" d="${sine(150_000)}"/>`)],
  ['a stroke of 499,000 points', () => svg(`<path fill="none" stroke="red" d="${sine(499_000)}"/>`)],
];

/** Each must be read, and refused when its lines are followed. */
export const CUT_TOO_OFTEN: readonly Hostile[] = [
  [
    'many lines along a clip of some teeth',
    () =>
      svg(
        `<clipPath id="c"><path d="${comb(1_000)}"/></clipPath>${row(100, (k) => `<path clip-path="url(#c)" fill="none" stroke="red" d="M1 ${40 + k / 5}h98"/>`)}`,
      ),
  ],
  [
    'a line along a clip of many teeth',
    () =>
      svg(
        `<clipPath id="c"><path d="${comb(20_000)}"/></clipPath><path clip-path="url(#c)" fill="none" stroke="red" d="M1 50h98"/>`,
      ),
  ],
];

/** Each must be read: with nothing run, fetched or drawn that is no drawing. */
export const READ: readonly Hostile[] = [
  ['a mark of byte order', () => `\ufeff${svg(SQUARE)}`],
  ['a DTD elsewhere', () => `<!DOCTYPE svg PUBLIC "-//x//x" "http://127.0.0.1:9/x.dtd">${svg(SQUARE)}`],
  ['a style sheet elsewhere', () => `<?xml-stylesheet href="http://127.0.0.1:9/x.css"?>${svg(SQUARE)}`],
  ['a script', () => svg(`<script>while(true){}</script>${SQUARE}`)],
  ['a script elsewhere', () => svg(`<script href="http://127.0.0.1:9/x.js"/>${SQUARE}`)],
  ['handlers of events', () => svg(SQUARE, 'viewBox="0 0 100 100" onload="while(true){}"')],
  ['a link that runs', () => svg(`<a href="javascript:while(true){}">${SQUARE}</a>`)],
  ['a picture elsewhere', () => svg(`<image href="http://127.0.0.1:9/x.png" width="9" height="9"/>`)],
  ['a picture of a file', () => svg(`<image xlink:href="file:///dev/zero" width="9" height="9"/>`)],
  ['a picture in the text', () => svg(`<image href="data:image/png;base64,${many(5_000_000, 'A')}"/>`)],
  ['a drawing within an address', () => svg('<use href="data:image/svg+xml,&lt;svg/&gt;#a"/>')],
  ['a use of another file', () => svg('<use href="other.svg#a"/>')],
  ['a use of itself', () => svg('<use id="a" href="#a"/>')],
  ['uses that use one another', () => svg('<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>')],
  ['a use of what holds it', () => svg('<g id="a"><g><use href="#a"/></g></g>')],
  ['a use of nothing', () => svg('<use/><use href=""/><use href="#"/><use href="#no"/>')],
  ['style sheets that import', () => svg(`<style>@import url(http://127.0.0.1:9/x.css);</style>${SQUARE}`)],
  [
    'a style sheet of selectors without end',
    () =>
      svg(
        `<style>${many(20_000, 'g ')}path{fill:none}</style>${many(150, '<g>')}${SQUARE}${many(150, '</g>')}`,
      ),
  ],
  [
    'selectors that go back and back',
    () =>
      svg(
        `<style>${many(15, 'g ')}x path{fill:none}</style>${many(190, '<g>')}${SQUARE}${many(190, '</g>')}`,
      ),
  ],
  ['a style of brackets', () => svg(`<path style="y-not:${many(100_000, '(')}" d="M1 1h5v5z"/>`)],
  ['a length of spaces', () => svg(`<rect width="1${many(100_000, ' ')}!" height="5"/>`)],
  ['a length of digits', () => svg(`<rect width="${many(100_000, '1')}!" height="5"/>`)],
  ['commas used often', () => svg(`<path id="a" d="M0 0${many(1_000_000, ',')}"/>${copies(1_000)}`)],
  [
    'a long style used often',
    () => svg(`<path id="a" style="${many(50_000, 'fill:red;')}" d="M0 0h1v1z"/>${copies(500)}`),
  ],
  [
    'many attributes used often',
    () => svg(`<path id="a" ${row(100_000, (k) => `a${k}="" `)} d="M0 0h1v1z"/>${copies(500)}`),
  ],
  [
    'a rule of many properties',
    () =>
      svg(
        `<style>.a{${row(50_000, (k) => `--a${k}:1;`)}}</style>${many(1_000, '<path class="a" d="M0 0h1v1z"/>')}`,
      ),
  ],
  [
    'squares by even and odd',
    () => svg(`<path fill-rule="evenodd" d="${row(5_000, (k) => `M${k % 71} ${k % 73}h.5v.5h-.5z`)}"/>`),
  ],
  [
    'ten thousand squares apart',
    () => svg(row(10_000, (k) => `<rect x="${k % 100}" y="${Math.floor(k / 100)}" width=".5" height=".5"/>`)),
  ],
  ['a style sheet of braces', () => svg(`<style>${many(100_000, '{')}</style>${SQUARE}`)],
  ['not a number', () => path('M0 0LNaN NaN')],
  ['without end', () => path('M0 0LInfinity 0')],
  ['figures beyond all figures', () => path('M0 0L1e400 1e400')],
  ['figures beyond the drawing', () => path('M0 0L1e300 1e300')],
  ['a figure of a million digits', () => path(`M0 0L${many(1_000_000, '9')} 0`)],
  ['a figure of many points', () => path(`M0 0L${many(500_000, '.1')}`)],
  ['only commas', () => path(`M0 0${many(1_000_000, ',')}`)],
  ['half a command', () => path('M0 0C1 1')],
  [
    'a transform beyond all figures',
    () => svg('<g transform="scale(1e300) scale(1e300)"><path d="M1 1h5v5z"/></g>'),
  ],
  [
    'transforms that grow',
    () => svg(`${many(150, '<g transform="scale(1e6)">')}${SQUARE}${many(150, '</g>')}`),
  ],
  ['a transform of nothing', () => svg(`<g transform="scale(0)">${SQUARE}</g>`)],
  ['an empty viewBox', () => svg(SQUARE, 'viewBox="0 0 0 0"')],
  ['a viewBox turned inside out', () => svg(SQUARE, 'viewBox="0 0 -5 -5" width="-3" height="-9"')],
  ['a viewBox beyond figures', () => svg(SQUARE, 'viewBox="0 0 1e-300 1e-300" width="1e7" height="1e7"')],
  [
    'sizes below nothing',
    () => svg('<rect width="-5" height="5"/><circle r="-1"/><ellipse rx="-1" ry="2"/>'),
  ],
  ['a dash of nothing', () => svg('<path stroke="red" stroke-dasharray="0 0" d="M0 0h90"/>')],
  ['dashes finer than dust', () => svg('<path stroke="red" stroke-dasharray="1e-7" d="M0 0h90"/>')],
  ['a stroke wider than the world', () => svg('<path stroke="red" stroke-width="1e7" d="M0 0h90l1 1"/>')],
  ['a miter without end', () => svg('<path stroke="red" stroke-miterlimit="1e300" d="M0 0h90L0 1e-9"/>')],
  ['many ids', () => svg(many(100_000, '<g id="a"/>') + SQUARE)],
  [
    'a pattern of itself',
    () =>
      svg(
        `<pattern id="p"><path fill="url(#p)" d="M0 0h9v9z"/></pattern><path fill="url(#p)" d="M0 0h9v9z"/>`,
      ),
  ],
  ['a clip of nothing', () => svg(`<clipPath id="c"/><g clip-path="url(#c)">${SQUARE}</g>`)],
  [
    'a clip whose use uses itself',
    () => svg(`<clipPath id="c"><use id="u" href="#u"/></clipPath><g clip-path="url(#c)">${SQUARE}</g>`),
  ],
  ['a thousand strokes on one place', () => svg(many(1_000, '<path stroke="red" d="M0 0L90 90"/>'))],
  [
    'variables that double',
    () =>
      svg(
        `<style>path{--v0:1;${row(9, (k) => `--v${k + 1}:${many(9, `var(--v${k}) `)};`)}stroke-width:var(--v9)}</style>${SQUARE}`,
      ),
  ],
  ['squares on squares', () => svg(many(3_000, SQUARE))],
  [
    'transforms that grow, and curves',
    () => svg(`${many(60, '<g transform="scale(1e6)">')}<path d="M0 0C1 5 3 5 9 9z"/>${many(60, '</g>')}`),
  ],
  [
    'a selector of selectors',
    () => svg(`<style>${many(2_000, ':not(')}a${many(2_000, ')')}{fill:none}</style>${SQUARE}`),
  ],
  [
    'a length of sums',
    () => svg(`<rect width="calc(${many(40, '(1px + ')}1px${many(40, ')')})" height="5"/>`),
  ],
  ['a font size that grows', () => svg(`${many(150, '<g font-size="9em">')}${SQUARE}${many(150, '</g>')}`)],
];

/** Those that take a second or more where another of their kind takes less. */
export const LONG: ReadonlySet<string> = new Set([
  'a curve of a million km',
  'a figure of many points',
  'a line along a clip of many teeth',
  'a stroke of half a million points, dense',
  'a stroke of 499,000 points',
  'shapes over the edge',
  'circles upon circles',
  'half a million curves, each across the drawing',
  'many styles of many shapes',
  'many ids',
  'a comb of long threads',
  'uses of uses, ten to the tenth',
  'many rules for many elements',
  'empty groups used often',
  'ten thousand squares apart',
  'clips fitted to boxes in boxes',
  'a line of nine million figures',
  'a million shapes',
  'squares on squares',
  'a long style used often',
  'commands of nothing but zeros',
]);
