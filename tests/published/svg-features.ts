/**
 * What moves ink in an SVG file as browsers draw it: elements, attributes, properties, units, rules and selectors of
 * SVG 2, CSS Cascade 5, Values 4, Transforms 2, Masking 1, Color 4, Selectors 4 and their neighbours. Each row is a row
 * of docs/artwork-svg.md.
 */
interface Feature {
  /** As docs/artwork-svg.md writes it. */
  readonly name: string;
  /** Within an svg of 400 px with a viewBox of 0 0 100 100, or a whole file. */
  readonly inner: string;
  /** The same without the feature, which Chromium must draw differently; undefined where the feature changes nothing. */
  readonly plain?: string;
}

export interface ReadFeature extends Feature {
  /** Whether nothing is drawn. */
  readonly empty?: true;
}

export interface LeftOutFeature extends Feature {
  readonly code: string;
}

const D = 'M20 20h40v25h-20v20h-20z';
const S = `<path d="${D}"/>`;
const path = (more: string) => `<path d="${D}" ${more}/>`;
const css = (rules: string, inner = `<path class="a" id="p" d="${D}"/>`) => `<style>${rules}</style>${inner}`;
const style = (text: string) => path(`style="${text}"`);
const LINE = '<path fill="none" stroke="black" stroke-width="6" d="M20 30H80V70"/>';
const line = (more: string) => `<path fill="none" stroke="black" stroke-width="6" d="M20 30H80V70" ${more}/>`;
const R = '<rect x="20" y="30" width="40" height="20"/>';
const rect = (text: string) => `<rect x="20" y="30" width="40" height="20" style="${text}"/>`;
const WHOLE = 'M10 10h80v80h-80z';
const clipped = (clip: string, more = '') => `${clip}<path d="${WHOLE}" clip-path="url(#c)" ${more}/>`;
const CLIP = '<clipPath id="c"><rect width="30" height="30"/></clipPath>';
const BOX_CLIP =
  '<clipPath id="c" clipPathUnits="objectBoundingBox"><rect width=".5" height=".5"/></clipPath>';
const FULL = `<path d="${WHOLE}"/>`;
const file = (attributes: string, inner: string) =>
  `<svg xmlns="http://www.w3.org/2000/svg" ${attributes}>${inner}</svg>`;
const row = (name: string, inner: string, plain: string | undefined = S, empty?: true): ReadFeature => ({
  name,
  inner,
  ...(plain === '' ? {} : { plain }),
  ...(empty ? { empty } : {}),
});
/** Changes nothing: the name says so in the table. */
const NOTHING = '';

const INVALID_FONTS: readonly string[] = [
  'foo 20px x',
  '20px inherit',
  '20px x,',
  '20px 1x',
  'bold bold 20px x',
  'italic oblique 20px x',
  '1001 20px x',
  '0 20px x',
  'inherit 20px x',
  '50% 20px x',
  '20px/-1 x',
  'oblique 100deg 20px x',
];

export const READ_FEATURES: readonly ReadFeature[] = [
  // Transforms.
  row('`transform` attribute', path('transform="translate(20 10) rotate(20) scale(1.2,.8) skewX(9)"')),
  row('`transform` property', style('transform: translate(20px, 10%) rotate(.1turn) scale(80%) skewY(5deg)')),
  row('`transform` without units in a style: ignored', style('transform: rotate(20)'), NOTHING),
  row(
    '`transform` functions `translateX`, `scaleY`, `matrix`, `skew`',
    style('transform: translateX(9px) scaleY(.5) matrix(1,.2,0,1,3,4) skew(4deg,2deg)'),
  ),
  row(
    '`transform` functions `translate3d`, `scale3d`, `rotateZ`',
    style('transform: translate3d(9px,3px,5px) scale3d(.5,.9,2) rotateZ(9deg)'),
  ),
  row(
    '`transform-origin` property',
    style('transform-origin: 40px 40px; transform: rotate(40deg)'),
    style('transform: rotate(40deg)'),
  ),
  row(
    '`transform-origin` attribute',
    path('transform-origin="40 40" transform="rotate(40)"'),
    path('transform="rotate(40)"'),
  ),
  row(
    '`transform-origin` in percentages and keywords',
    style('transform-origin: right 25%; transform: rotate(20deg)'),
    style('transform: rotate(20deg)'),
  ),
  row(
    '`transform-origin` with the vertical keyword first',
    style('transform-origin: bottom center; transform: rotate(20deg)'),
    style('transform: rotate(20deg)'),
  ),
  row(
    '`transform-box: fill-box`',
    style('transform-box: fill-box; transform-origin: center; transform: rotate(45deg)'),
    style('transform: rotate(45deg)'),
  ),
  row(
    '`transform-box: fill-box` of a `use` with `x`',
    `<defs>${path('id="u"')}</defs><use href="#u" x="20" style="transform:rotate(20deg);transform-box:fill-box;transform-origin:50% 50%"/>`,
    `<defs>${path('id="u"')}</defs><use href="#u" x="20"/>`,
  ),
  row(
    '`transform-box: fill-box` of a group',
    `<g style="transform-box: fill-box; transform-origin: 100% 100%; transform: scale(.5)">${S}</g>`,
    `<g style="transform: scale(.5)">${S}</g>`,
  ),
  row(
    '`transform-box: view-box` with a viewBox that begins elsewhere',
    file(
      'width="400" height="400" viewBox="-20 -10 100 100"',
      style('transform-origin: 50% 50%; transform: rotate(30deg)'),
    ),
    NOTHING,
  ),
  row('`translate`, `rotate`, `scale` properties', style('translate: 9px 4px; rotate: 12deg; scale: 1.2 .8')),
  row(
    '`transform` on the outermost svg',
    file('width="400" height="400" viewBox="0 0 100 100" transform="rotate(20)"', S),
    S,
  ),
  row(
    'the edge of the outermost svg, turned with it',
    file(
      'width="400" height="400" viewBox="0 0 100 100" style="translate:20px;rotate:20deg"',
      '<rect x="-9" width="60" height="120"/>',
    ),
    file(
      'width="400" height="400" viewBox="-9 0 100 100" style="translate:20px;rotate:20deg"',
      '<rect x="-9" width="60" height="120"/>',
    ),
  ),
  row(
    '`transform` of a style on the outermost svg',
    file('width="400" height="400" viewBox="0 0 100 100" style="transform: scale(.5)"', S),
    S,
  ),

  // Sizes and places as properties.
  row('`x`, `y`, `width`, `height` properties', rect('x:10px;y:20px;width:30%;height:33px'), R),
  row('`width` without a unit in a style', rect('width:70'), R),
  row('`rx`, `ry` properties', rect('rx:9px;ry:5px'), R),
  row(
    '`cx`, `cy`, `r` properties',
    css('circle{cx:40px;cy:60px;r:22px}', '<circle cx="20" cy="20" r="9"/>'),
    '<circle cx="20" cy="20" r="9"/>',
  ),
  row('`d` property', style("d: path('M10 10h30v60z')")),
  row('`d: none`', style('d: none'), S, true),
  row(
    '`x`, `y` of `use` as properties',
    `<defs><path id="u" d="${D}"/></defs><use href="#u" style="x:20px;y:9px"/>`,
  ),

  // Units and functions.
  row(
    'px, mm, cm, in, pt, pc, Q',
    '<rect x="3mm" y=".2cm" width=".5in" height="30pt"/><rect x="60px" y="1pc" width="40Q" height="9px"/>',
    NOTHING,
  ),
  row('percentages', '<circle cx="50%" cy="40%" r="20%"/>', NOTHING),
  row(
    'em, rem',
    css('svg{font-size:10px} g{font-size:2em}', '<g><rect x="1em" y="1rem" width="2em" height="3rem"/></g>'),
    NOTHING,
  ),
  row(
    '`font-size` in keywords and percentages',
    css('g{font-size:large} rect{font-size:150%}', '<g><rect x="1em" y="9" width="2em" height="3em"/></g>'),
    NOTHING,
  ),
  row(
    '`font` shorthand for em',
    css('rect{font:20px/1 serif}', '<rect x="1em" y="9" width="2em" height="3em"/>'),
    NOTHING,
  ),
  row(
    '`font` with `calc()`',
    '<g style="font:italic calc(10px + 10px)/2 x, serif"><rect width="2em" height="1em"/></g>',
    '<rect width="2em" height="1em"/>',
  ),
  row(
    'an invalid `font`: ignored',
    INVALID_FONTS.map((font, k) => `<rect y="${8 * k}" width="2em" height="6" style="font:${font}"/>`).join(
      '',
    ),
    INVALID_FONTS.map((_, k) => `<rect y="${8 * k}" width="40" height="6"/>`).join(''),
  ),
  row('vw, vh, vmin, vmax', '<rect x="5vw" y="3vh" width="10vmin" height="8vmax"/>', NOTHING),
  row('`calc()`', rect('x:calc(10px + 10%);width:calc((30px - 2px) * 2)'), R),
  row(
    '`calc()` in attributes',
    '<rect x="calc(10px + 10%)" y="30" width="calc(60px / 2)" height="20"/>',
    NOTHING,
  ),
  row(
    '`min()`, `max()`, `clamp()`',
    rect('x:min(10px,20%);width:max(10px,50%);height:clamp(5px,50%,30px)'),
    R,
  ),
  row('`calc()` in transforms', style('transform: translate(calc(5px + 10%), 4px) rotate(calc(5deg * 3))')),

  // Paint.
  row('`fill: none`', path('fill="none"'), S, true),
  row('`transparent`', path('fill="transparent"'), S, true),
  row(
    'fully transparent colours',
    `${path('fill="#0000"')}${path('fill="rgb(0 0 0 / 0)"')}${path('fill="hsla(9,9%,9%,0%)"')}`,
    S,
    true,
  ),
  row('`fill-opacity: 0`', path('fill-opacity="0"'), S, true),
  row('`opacity: 0`', `<g opacity="0%">${S}</g>`, S, true),
  row('`visibility`', `<g visibility="hidden">${S}<path visibility="visible" d="M70 70h9v9h-9z"/></g>`),
  row('`visibility: collapse`', path('visibility="collapse"'), S, true),
  row('`display: none`', path('display="none"'), S, true),
  row('`currentColor`', '<g color="transparent"><path fill="currentColor" d="M1 1h50v50z"/></g>', S, true),
  row('an invalid colour: ignored', path('fill="bluish"'), NOTHING),
  row(
    'colours that browsers do not know: ignored',
    ['device-cmyk(0 0 0 1)', 'accentcolor', '-moz-Dialog', '-webkit-text', 'color(display-p3-linear 0 0 0)']
      .map((colour) => style(`fill:none;fill:${colour}`))
      .join(''),
    S,
    true,
  ),
  row(
    '`url()` without a target, with a fallback',
    `${path('fill="url(#no) none"')}<path d="M70 70h9v9h-9z" fill="url(#no) red"/>`,
  ),
  row('`url()` without a target, without a fallback', path('fill="url(#no)"'), S, true),
  row(
    '`fill-rule`',
    '<path fill-rule="evenodd" d="M10 10h60v60h-60zM20 20h30v30h-30z"/>',
    '<path d="M10 10h60v60h-60zM20 20h30v30h-30z"/>',
  ),
  row('`paint-order`: no effect', path('stroke="black" stroke-width="5" paint-order="stroke"'), NOTHING),
  row('`isolation`: no effect', style('isolation: isolate'), NOTHING),

  // Strokes.
  row('`stroke`, `stroke-width`', LINE),
  row('`stroke-width` in percentages', line('style="stroke-width:10%"'), LINE),
  row(
    'negative `stroke-width`: ignored',
    '<g stroke-width="3"><path fill="none" stroke="black" stroke-width="-5" d="M20 30H80"/></g>',
    NOTHING,
  ),
  row('`stroke-linecap`', line('stroke-linecap="round"'), LINE),
  row(
    '`stroke-linejoin`',
    '<path fill="none" stroke="black" stroke-width="20" stroke-linejoin="bevel" d="M20 30H80V70"/>',
    '<path fill="none" stroke="black" stroke-width="20" d="M20 30H80V70"/>',
  ),
  row(
    '`stroke-miterlimit`',
    '<path fill="none" stroke="black" stroke-width="6" stroke-miterlimit="9" d="M20 70L50 20L60 70"/>',
    '<path fill="none" stroke="black" stroke-width="6" d="M20 70L50 20L60 70" stroke-miterlimit="2"/>',
  ),
  row('`stroke-dasharray`', line('stroke-dasharray="7 3 1"'), LINE),
  row('`stroke-dasharray` in units and percentages', line('style="stroke-dasharray: 2mm, 5%"'), LINE),
  row(
    '`stroke-dashoffset`',
    line('stroke-dasharray="7 5" stroke-dashoffset="4"'),
    line('stroke-dasharray="7 5"'),
  ),
  row('`stroke-opacity: 0`', line('stroke-opacity="0"'), LINE, true),
  row('`pathLength`', line('pathLength="10" stroke-dasharray="1 .5"'), line('stroke-dasharray="1 .5"')),
  row(
    '`vector-effect: non-scaling-stroke`',
    line('vector-effect="non-scaling-stroke" transform="scale(1,.5)"'),
    line('transform="scale(1,.5)"'),
  ),
  row(
    '`pathLength` with `vector-effect: non-scaling-stroke`',
    '<g transform="scale(2)"><path d="M5 20H45M5 30L40 45" pathLength="9" stroke="black" stroke-width="8" stroke-dasharray="2 1" vector-effect="non-scaling-stroke"/></g>',
    '<g transform="scale(2)"><path d="M5 20H45M5 30L40 45" stroke="black" stroke-width="8" stroke-dasharray="2 1" vector-effect="non-scaling-stroke"/></g>',
  ),
  row(
    '`pathLength` and `stroke-dashoffset` of a stroke that does not scale, under an uneven scale',
    '<path d="M6 20H34V60L6 50z" transform="scale(2,1)" fill="none" pathLength="20" stroke="black" stroke-width="20" stroke-dasharray="5 3" stroke-dashoffset="2" vector-effect="non-scaling-stroke"/>',
    '<path d="M6 20H34V60L6 50z" transform="scale(2,1)" fill="none" pathLength="20" stroke="black" stroke-width="20" stroke-dasharray="5 3" vector-effect="non-scaling-stroke"/>',
  ),
  row(
    'a dash through the start of a closed shape',
    '<path fill="none" stroke="black" stroke-width="20" stroke-dasharray="70 25" d="M20 20h60v60h-60z"/>',
    '<path fill="none" stroke="black" stroke-width="20" stroke-dasharray="70 25" d="M20 20h60v60h-60v-60"/>',
  ),
  row(
    'dashes that end just where their line does',
    '<path d="M10 20L80 70" pathLength="4" stroke-dasharray="1" stroke="black" stroke-width="6"/>',
    '<path d="M10 20L80 70" stroke="black" stroke-width="6"/>',
  ),
  row(
    'a line that begins where a dash ends',
    `<path d="M10 20L80 70" stroke-dasharray="9.1" stroke-dashoffset="9.1" stroke="black" stroke-width="6"/>`,
    `<path d="M10 20L80 70" stroke-dasharray="9.1" stroke="black" stroke-width="6"/>`,
  ),
  row(
    'a closed line between two points',
    '<g fill="none" stroke="black" stroke-width="10"><path d="M20 20H80Z"/><polygon points="20,50 80,50"/><path d="M20 80H80H20Z" stroke-linejoin="bevel"/></g>',
    '<g fill="none" stroke="black" stroke-width="10" stroke-linecap="square"><path d="M20 20H80M20 50H80M20 80H80"/></g>',
  ),
  row(
    'a dash longer than a closed shape: joined at the start of an upright rectangle, and of no other shape',
    `<g fill="none" stroke="black" stroke-width="8" stroke-dasharray="1000"><rect x="10" y="10" width="30" height="30"/><path d="M60 60L90 70L70 90Z"/></g><rect x="60" y="10" width="30" height="30" fill="none" stroke="black" stroke-width="8" pathLength="100" stroke-dasharray="100"/>`,
    `<g fill="none" stroke="black" stroke-width="8"><path d="M10 10H40V40H10V10M60 60L90 70L70 90L60 60M60 10H90V40H60V10"/></g>`,
  ),
  row(
    'a dash that ends at the start of a closed shape',
    `<rect x="20" y="20" width="60" height="60" fill="none" stroke="black" stroke-width="8" stroke-dasharray="16"/>`,
    `<path d="M20 20H80V80H20V20" fill="none" stroke="black" stroke-width="8" stroke-dasharray="16"/>`,
  ),
  row(
    'dots of lines without length, with and without dashes',
    `<g fill="none" stroke="black" stroke-width="16" stroke-linecap="round"><path d="M20 20z"/><path d="M50 20z" stroke-dasharray="5"/><path d="M80 20h0" stroke-dasharray="5"/><path d="M20 50h0" stroke-dasharray="5" stroke-dashoffset="7"/><path d="M50 50h0M80 50h9" stroke-dasharray="5"/></g>`,
    `<g fill="none" stroke="black" stroke-width="16" stroke-linecap="round"><path d="M20 20z"/><path d="M50 20z"/><path d="M80 20h0"/><path d="M20 50h0"/><path d="M50 50h0M80 50h9"/></g>`,
  ),
  row(
    '`pathLength` of 0, or that cannot be read: a whole line',
    `${line('stroke-dasharray="5" pathLength="0"')}<path d="M10 90h80" stroke="black" stroke-width="6" stroke-dasharray="5" pathLength="10px"/>`,
    line('stroke-dasharray="5"'),
  ),
  row(
    'a comma behind `pathLength`: ignored; two numbers: a whole line',
    `${line('stroke-dasharray="5" pathLength="50 ,"')}<path d="M10 90h80" stroke="black" stroke-width="6" stroke-dasharray="5" pathLength="50 50"/>`,
    `${LINE}<path d="M10 90h80" stroke="black" stroke-width="6" stroke-dasharray="5" pathLength="50"/>`,
  ),
  row('a negative `pathLength`: ignored', line('stroke-dasharray="5" pathLength="-3"'), LINE),
  row('a stroke under a skew', line('transform="skewX(30)"'), LINE),

  // Clips.
  row(
    '`clip-path` of a `clipPath`',
    clipped('<clipPath id="c"><circle cx="50" cy="50" r="30"/></clipPath>'),
    FULL,
  ),
  row(
    '`clip-path` as a property',
    css(
      '.b{clip-path:url(#c)}',
      `<clipPath id="c"><circle cx="50" cy="50" r="30"/></clipPath><path class="b" d="${WHOLE}"/>`,
    ),
    FULL,
  ),
  row(
    '`clipPathUnits`',
    clipped('<clipPath id="c" clipPathUnits="objectBoundingBox"><rect width=".5" height=".3"/></clipPath>'),
    FULL,
  ),
  row(
    '`clip-rule`',
    clipped('<clipPath id="c"><path clip-rule="evenodd" d="M20 20h60v60h-60zM30 30h20v20h-20z"/></clipPath>'),
    FULL,
  ),
  row(
    '`clip-path` on a `clipPath`',
    clipped(
      '<clipPath id="c" clip-path="url(#k)"><circle cx="50" cy="50" r="30"/></clipPath><clipPath id="k"><rect width="50" height="99"/></clipPath>',
    ),
    FULL,
  ),
  row(
    '`use` within a `clipPath`',
    clipped(
      '<defs><circle id="k" cx="50" cy="50" r="30"/></defs><clipPath id="c"><use href="#k" x="9"/></clipPath>',
    ),
    FULL,
  ),
  row(
    '`transform` of and in a `clipPath`',
    clipped(
      '<clipPath id="c" transform="rotate(9)"><circle transform="scale(.5 1)" cx="90" cy="50" r="30"/></clipPath>',
    ),
    FULL,
  ),
  row(
    '`visibility`, `display` in a `clipPath`',
    clipped(
      '<clipPath id="c"><rect width="50" height="50"/><rect visibility="hidden" width="99" height="99"/><rect display="none" width="99" height="99"/></clipPath>',
    ),
    FULL,
  ),
  row('an empty `clipPath`', clipped('<clipPath id="c"/>'), FULL, true),
  row(
    '`clip-path` on a `use` with `x`, `y`',
    `${CLIP}<defs>${path('id="u"')}</defs><use href="#u" x="20" y="5" clip-path="url(#c)"/>`,
    `${CLIP}<defs>${path('id="u"')}</defs><g clip-path="url(#c)"><use href="#u" x="20" y="5"/></g>`,
  ),
  row(
    '`clip-path` on an `svg` within another',
    `${CLIP}<svg x="20" y="10" width="50" height="50" viewBox="10 10 60 60" transform="rotate(10)" clip-path="url(#c)">${S}</svg>`,
    `${CLIP}<g clip-path="url(#c)"><svg x="20" y="10" width="50" height="50" viewBox="10 10 60 60" transform="rotate(10)">${S}</svg></g>`,
  ),
  row(
    '`clip-path` on a `symbol`',
    `${CLIP}<symbol id="u" viewBox="0 0 90 90" clip-path="url(#c)">${S}</symbol><use href="#u" x="20" width="50" height="50"/>`,
    `${CLIP}<symbol id="u" viewBox="0 0 90 90">${S}</symbol><use href="#u" x="20" width="50" height="50" clip-path="url(#c)"/>`,
  ),
  row(
    '`clipPathUnits` under a `transform` of the `clipPath`',
    clipped(
      '<clipPath id="c" clipPathUnits="objectBoundingBox" transform="translate(10 5) scale(.5)"><rect width="1" height="1"/></clipPath>',
    ),
    clipped(
      '<clipPath id="c" clipPathUnits="objectBoundingBox"><rect width="1" height="1" transform="translate(10 5) scale(.5)"/></clipPath>',
    ),
  ),
  row(
    '`clipPathUnits` on a group whose children are turned',
    `${BOX_CLIP}<g clip-path="url(#c)"><g transform="rotate(20)">${S}</g><path transform="rotate(30)" d="M40 0C90 0 90 40 40 40z"/></g>`,
  ),
  row(
    '`clipPathUnits` on the clip of a `clipPath`',
    clipped(
      '<clipPath id="c" clip-path="url(#k)"><rect width="70" height="70"/></clipPath><clipPath id="k" clipPathUnits="objectBoundingBox"><rect width=".4" height=".4"/></clipPath>',
    ),
    FULL,
  ),
  row(
    '`display: none` of a `clipPath`: it does not clip',
    clipped('<clipPath id="c" display="none"><rect width="40" height="40"/></clipPath>'),
    clipped('<clipPath id="c"><rect width="40" height="40"/></clipPath>'),
  ),
  row(
    'percentages in a `clipPath` within another `svg`',
    clipped(
      '<svg width="60" height="60" viewBox="0 0 80 60"><clipPath id="c"><rect width="50%" height="50%"/></clipPath></svg>',
    ),
    clipped('<clipPath id="c"><rect width="50%" height="50%"/></clipPath>'),
  ),
  row('`clip`: no effect', style('clip: rect(0 30px 30px 0)'), NOTHING),

  // Structure.
  row(
    '`use`',
    `<defs>${path('id="u"')}</defs><use href="#u" x="20"/><use href="#u" transform="rotate(30)"/>`,
  ),
  row(
    '`use` of a `symbol`',
    `<symbol id="u" viewBox="0 0 90 90">${S}</symbol><use href="#u" x="10" y="8" width="40" height="60"/>`,
  ),
  row(
    '`use` of an `svg`',
    `<defs><svg id="u" viewBox="0 0 90 90" width="20" height="20">${S}</svg></defs><use href="#u" x="10" width="60" height="60"/>`,
  ),
  row(
    'style across `use`',
    `<defs><path id="u" d="${D}"/></defs><use href="#u" fill="none" stroke="black" stroke-width="3"/>`,
  ),
  row(
    '`svg` within `svg`',
    `<svg x="10" y="20" width="50" height="30" viewBox="0 0 60 60" preserveAspectRatio="xMaxYMin slice">${S}</svg>`,
  ),
  row(
    '`overflow` attribute',
    `<svg width="40" height="40" overflow="visible">${S}</svg>`,
    `<svg width="40" height="40">${S}</svg>`,
  ),
  row(
    '`overflow` property',
    `<svg width="40" height="40" style="overflow:visible">${S}</svg>`,
    `<svg width="40" height="40">${S}</svg>`,
  ),
  row(
    '`overflow` by a rule',
    css('svg svg{overflow:visible}', `<svg width="40" height="40">${S}</svg>`),
    `<svg width="40" height="40">${S}</svg>`,
  ),
  row(
    '`overflow: auto`, `scroll`, `hidden`, `clip`',
    ['auto', 'scroll', 'hidden', 'clip']
      .map((o, k) => `<svg x="${k * 20}" width="30" height="40" overflow="${o}">${S}</svg>`)
      .join(''),
    NOTHING,
  ),
  row(
    '`overflow` of a `symbol`',
    `<symbol id="u" style="overflow:visible">${S}</symbol><use href="#u" width="40" height="40"/>`,
    `<symbol id="u">${S}</symbol><use href="#u" width="40" height="40"/>`,
  ),
  row(
    '`viewBox`, `preserveAspectRatio`',
    file('width="400" height="300" viewBox="5 5 80 90" preserveAspectRatio="xMinYMax slice"', S),
    S,
  ),
  row(
    '`preserveAspectRatio="none"`',
    file('width="400" height="200" viewBox="0 0 100 100" preserveAspectRatio="none"', S),
    NOTHING,
  ),
  row(
    '`width`, `height` of the outermost svg in other units',
    file('width="80mm" height="200pt" viewBox="0 0 100 100"', S),
    NOTHING,
  ),
  row(
    'a `viewBox` of no width or height: nothing is drawn',
    `<svg viewBox="0 0 0 100">${S}</svg><svg viewBox="0 0 100 0">${S}</svg>`,
    S,
    true,
  ),
  row(
    'a `viewBox` of no width on the outermost svg',
    file('width="400" height="400" viewBox="0 0 0 100"', S),
    S,
    true,
  ),
  row(
    'an outermost svg of no width, or a negative one',
    file('width="-5" height="400" viewBox="0 0 100 100"', S),
    S,
    true,
  ),
  row(
    'negative `width`, `height`: ignored',
    `<symbol id="u" viewBox="0 0 90 90" width="40">${S}</symbol><use href="#u" width="-5"/><svg width="-5" height="50"><path d="M70 20h25v50z"/></svg>`,
    `<symbol id="u" viewBox="0 0 90 90" width="40">${S}</symbol><use href="#u"/>`,
  ),
  row(
    '`display` of the outermost svg: moves nothing',
    file('width="400" height="400" viewBox="0 0 100 100" display="none"', S),
    NOTHING,
  ),
  row(
    '`transform-origin` of the outermost svg',
    file(
      'width="400" height="400" viewBox="0 0 100 100" style="transform:rotate(20deg);transform-origin:0 0"',
      S,
    ),
    file('width="400" height="400" viewBox="0 0 100 100" style="transform:rotate(20deg)"', S),
  ),
  row(
    'an invalid `preserveAspectRatio`: ignored',
    ['slice xMinYMax', 'defer xMinYMax', 'bogus none', 'xMinYMax SLICE']
      .map(
        (a, k) =>
          `<svg x="${k * 25}" width="24" height="90" viewBox="0 0 100 100" preserveAspectRatio="${a}">${S}</svg>`,
      )
      .join(''),
    NOTHING,
  ),
  row(
    '`x`, `y` of a `symbol`',
    `<symbol id="u" x="20" y="10" viewBox="0 0 90 90">${S}</symbol><use href="#u" width="50" height="50"/>`,
    `<symbol id="u" viewBox="0 0 90 90">${S}</symbol><use href="#u" width="50" height="50"/>`,
  ),
  row(
    '`x`, `y` of an `svg` or `symbol` in a style: ignored',
    `<symbol id="u" style="x:30px" viewBox="0 0 90 90">${S}</symbol><use href="#u" width="50" height="50"/><svg style="x:20px;y:30px"><path d="M70 70h9v9z"/></svg>`,
    NOTHING,
  ),
  row(
    '`transform` attribute of a `symbol`: ignored; in a style: read',
    `<symbol id="u" transform="rotate(20)" viewBox="0 0 90 90">${S}</symbol><use href="#u" width="50" height="50"/><symbol id="v" style="transform:rotate(20deg)" viewBox="0 0 90 90">${S}</symbol><use href="#v" x="50" width="50" height="50"/>`,
    `<symbol id="u" viewBox="0 0 90 90">${S}</symbol><use href="#u" width="50" height="50"/><use href="#u" x="50" width="50" height="50"/>`,
  ),
  row(
    '`width`, `height` of a `use` in a style: ignored',
    `<symbol id="u" viewBox="0 0 90 90">${S}</symbol><use href="#u" style="width:40px;height:40px"/>`,
    NOTHING,
  ),
  row(
    '`width`, `height` in the style of what a `use` copies',
    `<defs><svg id="u" viewBox="0 0 90 90" style="width:40px;height:40px">${S}</svg></defs><use href="#u" width="80" height="80"/>`,
    `<defs><svg id="u" viewBox="0 0 90 90">${S}</svg></defs><use href="#u" width="80" height="80"/>`,
  ),
  row('`g`, `a`, `defs`', `<g><a>${S}</a></g><defs><path d="M0 0h99v99z"/></defs>`, NOTHING),
  row(
    '`a` just within `a`: draws nothing, and is in no box',
    `<g style="transform-box:fill-box;transform-origin:100% 100%;transform:rotate(20deg)"><a>${S}<a><rect y="70" width="99" height="20"/></a></a></g><a><g><a><rect y="80" width="30" height="9"/></a></g></a>`,
    `<a>${S}</a><rect y="70" width="99" height="20"/>`,
  ),
  row('`switch`', `<switch>${S}<path d="M0 0h99v99z"/></switch>`, NOTHING),
  row(
    '`switch` whose first child draws nothing',
    `<rect width="9" height="9"/><switch><title>t</title>${S}</switch><switch><defs/>${S}</switch>`,
    `<rect width="9" height="9"/>${S}`,
  ),
  row(
    '`switch` whose first child is of another namespace',
    `<switch><q:g xmlns:q="urn:x"/>${S}</switch>`,
    NOTHING,
  ),
  row(
    '`requiredExtensions` that browsers have',
    `<switch><rect requiredExtensions="http://www.w3.org/1999/xhtml" width="40" height="9"/>${S}</switch>`,
    S,
  ),
  row(
    '`#rgba` and `#rrggbbaa` with no opacity',
    `<path fill="#0000" d="${D}"/><path fill="#ff000000" d="${D}"/>`,
    S,
    true,
  ),

  // Cascade.
  row(
    'attribute, rule, `style`, in this order',
    css(
      '.a{fill:none}',
      `<path class="a" fill="red" d="${D}"/><path class="a" style="fill:red" d="M70 70h9v9h-9z"/>`,
    ),
  ),
  row('specificity and order', css('#p{fill:red} .a{fill:none} path{fill:none}'), NOTHING),
  row('`!important`', css('.a{fill:none!important} #p{fill:red}'), S, true),
  row(
    '`inherit`, `initial`, `unset`, `revert`',
    `<g fill="none" stroke="none"><path fill="initial" d="${D}"/><path style="fill:unset" d="M0 0h9v9z"/><path style="fill:revert" d="M0 90h9v9z"/></g>`,
    NOTHING,
  ),
  row(
    '`inherit` on a property that is not inherited',
    `<g transform="translate(9 4)"><path style="transform:inherit" d="${D}"/></g>`,
  ),
  row(
    '`var()` and custom properties',
    css(
      'svg{--w:none;--t:rotate(9deg)} .a{transform:var(--t)} .b{fill:var(--w)}',
      `<path class="a" d="${D}"/><path class="b" d="M0 0h99v99z"/>`,
    ),
  ),
  row('`var()` with a fallback', style('fill:var(--no, none)'), S, true),
  row(
    '`var()` of an undefined property: unset',
    `<g fill="none"><path fill="black" style="fill:var(--no)" d="${D}"/></g>`,
    S,
    true,
  ),
  row('an invalid value: ignored', css('.a{fill:none} .a{fill:12px}'), S, true),
  row(
    'an invalid value after a valid one: the valid one counts',
    style('display:none;display:bogus;fill:none;fill:;fill:12px'),
    S,
    true,
  ),
  row('keywords in capitals', style('DISPLAY:None;display:NONE'), S, true),
  row(
    'keywords in capitals of other properties',
    `<g visibility="hidden"><path style="visibility:VISIBLE;stroke:black;stroke-width:9;stroke-linejoin:ROUND;fill-rule:EVENODD" d="${D}"/></g>`,
  ),
  row('escapes in properties and values', style('f\\69ll:n\\6fne'), S, true),
  row('`!` before another word than `important`: ignored', style('fill:none!ie'), NOTHING),
  row(
    '`-webkit-` before a property without that prefix: ignored',
    style('-webkit-fill:none;-webkit-display:none'),
    NOTHING,
  ),
  row(
    '`inherit`, `unset`, `initial` of custom properties',
    css(
      'svg{--x:none} .a{--x:inherit;fill:var(--x)} .b{--x:unset;fill:var(--x)} .c{--x:initial;fill:var(--x,red)}',
      `<path class="a" d="M0 0h9v9z"/><path class="b" d="M0 40h9v9z"/><path class="c" d="${D}"/>`,
    ),
    css('', `<path d="M0 0h9v9z"/><path d="M0 40h9v9z"/>${S}`),
  ),
  row(
    'custom properties that use others: resolved where they are set',
    css('svg{--a:var(--b);--b:rotate(9deg)} .a{--b:none;transform:var(--a)}'),
  ),
  row(
    '`initial`, `unset`, `revert` of sizes and places',
    `<rect x="50" y="30" width="40" height="20" style="x:initial;ry:unset"/><rect width="99" height="9" style="width:initial"/><circle r="9" style="r:revert"/>`,
    `<rect x="50" y="30" width="40" height="20"/>`,
  ),
  row(
    '`initial` of `transform-origin`: the middle',
    style('transform:rotate(20deg);transform-origin:initial'),
    style('transform:rotate(20deg)'),
  ),
  row(
    '`initial` of `overflow`: visible',
    `<svg width="40" height="40" style="overflow:initial">${S}</svg>`,
    `<svg width="40" height="40">${S}</svg>`,
  ),
  row('`width` without a unit in a rule: ignored', css('rect{width:90}', R), NOTHING),

  // Numbers.
  row(
    'numbers that end in a point, in path data',
    '<path d="M20 20h40v25h-20v20h-20zM5. 5.h9v9z"/>',
    NOTHING,
  ),
  row(
    'numbers that end in a point, in points, sizes and `viewBox`',
    '<polygon points="10. 10. 50. 10. 50 50"/><rect width="99." height="9"/><svg viewBox="0 0 50. 50."><path d="M60 60h9v20z"/></svg>',
    '<polygon points="10 10 50 10 50 50"/><rect width="99" height="9"/><svg viewBox="0 0 50 50"><path d="M60 60h9v20z"/></svg>',
  ),
  row(
    'numbers that end in a point, in properties',
    '<path opacity="0." stroke="black" stroke-width="9." transform="translate(9. 9.)" d="M20 20h40v25h-20v20h-20z"/>',
    '<path stroke="black" stroke-width="9" transform="translate(9 9)" d="M20 20h40v25h-20v20h-20z"/>',
  ),
  row(
    'too many commas, in transforms, points and dashes',
    `<g transform="translate(10,,5)"><polygon points="30,20,60,20,60,60,,20,90" stroke="black" stroke-width="5" stroke-dasharray="9,,3"/><polygon points=",90,9 99,9 99,99"/></g>`,
    `<g transform="translate(10,5)"><polygon points="30,20,60,20,60,60,20,90" stroke="black" stroke-width="5" stroke-dasharray="9,3"/><polygon points="90,9 99,9 99,99"/></g>`,
  ),
  row('too many commas, in path data', '<path d="M20 20h40v25h-20v20h-20zM,5 5h9v9z"/>', NOTHING),
  row(
    'a no-break space in path data and points',
    '<path d="M20 20h40v25h-20v20h-20zM70 70L90 70\u00a090 90z"/><polygon points="\u00a010,10 50,10 50,50"/>',
    '<path d="M20 20h40v25h-20v20h-20zM70 70L90 70 90 90z"/>',
  ),
  row(
    '`calc()` without units: px, but ignored for `width`, `height` and `font-size`',
    `${rect('x:calc(10 * 4);y:max(2,9);width:calc(9);height:min(7,8)')}${rect('y:60px;width:2em;font-size:calc(8)')}`,
    rect('x:40px;y:9px;width:9px;height:7px'),
  ),
  row(
    'brackets without a function: ignored',
    [
      rect('width:(90px)'),
      rect('y:(2px)'),
      style('transform:rotate((30deg))'),
      style('opacity:(0)'),
      '<rect x="70" y="70" width="20" height="(9)"/>',
      line('style="stroke-width:(20px)"'),
    ].join(''),
    rect('width:90px'),
  ),
  row(
    'percentages where only numbers or lengths may stand: ignored',
    [
      style('transform-origin:50px 50px 10%;transform:rotate(30deg)'),
      style('translate:20px 20px 10%'),
      style('transform:translate3d(20px,0,calc(10%))'),
      style('transform:matrix(50%,0,0,50%,0,0)'),
      style('scale:min(50%,1)'),
      '<path fill="none" stroke="black" stroke-width="9" stroke-miterlimit="100%" d="M50 90H90V50"/>',
    ].join(''),
    style('transform-origin:50px 50px;transform:rotate(30deg)'),
  ),
  row(
    'a space before the bracket of a function, a comma too many, `calc(0)` for a length: ignored',
    ['rotate (30deg)', 'translate(20px,)', 'translate(calc(0),20px)', 'rotate(calc(0)) scale(.5)']
      .map((transform) => style(`transform:${transform}`))
      .join(''),
    style('transform:rotate(30deg)'),
  ),
  row(
    'radii of a style below nothing by `calc()`: nothing',
    `<ellipse cx="40" cy="40" rx="20" ry="10" style="rx:calc(-20px)"/>${S}`,
    `<ellipse cx="40" cy="40" rx="20" ry="10"/>${S}`,
  ),
  row('escaped digits: no number', rect('width:\\39 0px'), rect('width:90px')),
  row('hexadecimal numbers: invalid', path('transform="rotate(0x20)"'), NOTHING),
  row(
    '`rx`, `ry` that cannot be read: no radius',
    '<rect width="60" height="50" rx="auto" ry="20"/>',
    '<rect width="60" height="50" ry="20"/>',
  ),

  row(
    '`@media screen`, `print`',
    css('@media print{.a{fill:none}} @media screen{.a{transform:translate(9px,9px)}}'),
  ),
  row(
    'an empty place in a list of media: for none',
    `<style>@media print,{.a{fill:none}}@media not all,{.a{fill:none}}@media ,{.a{fill:none}}</style><style media="print,">.a{fill:none}</style><style media=",">.a{fill:none}</style><path class="a" d="${D}"/>`,
    `<path fill="none" d="${D}"/>`,
  ),
  row(
    '`media` and `type` of `style`',
    `<style media="print">.a{fill:none}</style><style type="text/x">.a{fill:none}</style><path class="a" d="${D}"/>`,
    NOTHING,
  ),
  row(
    '`@font-face`, `@keyframes`, `@page`: no effect',
    css('@font-face{font-family:x;src:url(y)} @keyframes k{from{fill:none}} @page{margin:0}'),
    NOTHING,
  ),
  row(
    '`title` of `style`: those of the first title alone',
    `<style title="a">.a{fill:none}</style><style title="b">rect{fill:none}</style>${path('class="a"')}${R}`,
    `${S}${R}`,
  ),
  row(
    'elements of no namespace: draw nothing',
    `${S}<path xmlns="" d="M70 70h20v20z"/><style xmlns="">path{fill:none}</style>`,
    `${S}<path d="M70 70h20v20z"/>`,
  ),

  // Selectors.
  row('names, ids, classes, `*`', css('*{stroke:none} path#p.a{fill:none}'), S, true),
  row('descendants, children', css('svg>path.a{fill:none} g path{fill:none}'), S, true),
  row(
    '`+`, `~`',
    css(
      'rect+path{fill:none} rect~circle{fill:none}',
      `<rect width="9" height="9"/><path d="${D}"/><g/><circle cx="70" cy="70" r="9"/>`,
    ),
    `<rect width="9" height="9"/><path d="${D}"/><g/><circle cx="70" cy="70" r="9"/>`,
  ),
  row(
    'attributes: `[a]`, `=`, `~=`, `|=`, `^=`, `$=`, `*=`, `i`',
    css(
      '[id^="x"]{fill:none}[class~="b"]{fill:none}[id$="z" i]{fill:none}[d*="M3"]{fill:none}[lang|="en"]{fill:none}[clip-path]{fill:none}[id=w]{fill:none}',
      `<path id="xa" d="M0 0h9v9z"/><path class="a b" d="M20 0h9v9z"/><path id="qZ" d="M40 0h9v9z"/><path d="M3 30h9v9z"/><path lang="en-x" d="M20 30h9v9z"/><path id="w" d="M40 30h9v9z"/><path class="ab" d="${D}"/>`,
    ),
    css(
      '',
      `<path id="xa" d="M0 0h9v9z"/><path class="a b" d="M20 0h9v9z"/><path id="qZ" d="M40 0h9v9z"/><path d="M3 30h9v9z"/><path lang="en-x" d="M20 30h9v9z"/><path id="w" d="M40 30h9v9z"/><path class="ab" d="${D}"/>`,
    ),
  ),
  row(
    '`:root`, `:first-child`, `:last-child`, `:nth-child()`',
    css(
      ':root>path:nth-child(2n+1){fill:none} path:last-child{fill:none}',
      `<path d="M0 0h9v9z"/><path d="${D}"/><path d="M80 0h9v9z"/><path d="M80 80h9v9z"/>`,
    ),
  ),
  row(
    '`:nth-of-type()`, `:first-of-type`, `:nth-last-child()`',
    css(
      'path:nth-of-type(2){fill:none} rect:first-of-type{fill:none} path:nth-last-child(1){fill:none}',
      `<rect width="9" height="9"/><path d="${D}"/><path d="M80 0h9v9z"/><path d="M80 80h9v9z"/>`,
    ),
    css('', `<rect width="9" height="9"/><path d="${D}"/><path d="M80 0h9v9z"/><path d="M80 80h9v9z"/>`),
  ),
  row(
    '`:not()`, `:is()`, `:where()`',
    css(
      'path:not(.a){fill:none} :is(rect,circle){fill:none} :where(#p){stroke:none}',
      `<path class="a" id="p" d="${D}"/><rect width="99" height="9"/>`,
    ),
    css('', `<path class="a" id="p" d="${D}"/><rect width="99" height="9"/>`),
  ),
  row(
    'escapes in selectors',
    css(
      '.a\\:b{fill:none} #\\31 23{fill:none} .\\63{fill:none} r\\65 ct{fill:none}',
      `${S}<path class="a:b" d="M0 0h9v9z"/><path id="123" d="M0 20h9v9z"/><path class="c" d="M0 40h9v9z"/><rect width="99" height="5"/>`,
    ),
    css(
      '',
      `${S}<path class="a:b" d="M0 0h9v9z"/><path id="123" d="M0 20h9v9z"/><path class="c" d="M0 40h9v9z"/><rect width="99" height="5"/>`,
    ),
  ),
  row('`:nth-child(ODD)`', css('path:nth-child(ODD){fill:none}', `<g>${S}</g>`), S, true),
  row(
    '`[xmlns]`: matches nothing',
    `<style>[xmlns]{fill:none}</style><path xmlns="http://www.w3.org/2000/svg" d="${D}"/>`,
    `<path fill="none" d="${D}"/>`,
  ),
  row(
    '`[href]`: only without a namespace',
    `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="400" height="400" viewBox="0 0 100 100"><style>[href]{fill:none}</style><path xlink:href="#a" d="${D}"/></svg>`,
    `<path fill="none" d="${D}"/>`,
  ),
  row(
    'classes with a space between them, not with a no-break space',
    css('.a{fill:none}', `<path class="a\u00a0b" d="${D}"/>`),
    css('.a{fill:none}', `<path class="a b" d="${D}"/>`),
  ),
  row('selectors that match nothing', css('rect>path, .b, #q{fill:none}'), NOTHING),

  // Others.
  row('`marker: none`', style('marker:none'), NOTHING),
  row('`-webkit-` before a property', style('-webkit-transform: rotate(20deg)')),
  row('path data up to an error', '<path d="M20 20h40v25h-20v20h-20zL90"/>', NOTHING),
  row('numbers in path data that begin with 0', '<path d="M020 020H060V045H040V065H020z"/>', NOTHING),
];

const left = (name: string, code: string, inner: string, plain: string | undefined = S): LeftOutFeature => ({
  name,
  code: `artwork.${code}`,
  inner,
  ...(plain === '' ? {} : { plain }),
});
const IMAGE =
  "data:image/svg+xml,%3Csvg xmlns='http://www.w3.org/2000/svg' width='40' height='40'%3E%3Crect width='40' height='40'/%3E%3C/svg%3E";

export const LEFT_OUT_FEATURES: readonly LeftOutFeature[] = [
  left('`image`', 'left-out-element', `${S}<image href="${IMAGE}" x="50" y="50" width="40" height="40"/>`),
  left('`text`', 'left-out-element', `${S}<text x="10" y="90" font-size="30">Text</text>`),
  left(
    '`foreignObject`',
    'left-out-element',
    `${S}<foreignObject x="50" y="50" width="40" height="40"><div xmlns="http://www.w3.org/1999/xhtml" style="background:red;height:40px"/></foreignObject>`,
  ),
  left('`video`, `audio`', 'left-out-element', `${S}<video href="a.mp4"/>`, NOTHING),
  left('`script`', 'left-out-element', `${S}<script>document.documentElement.remove()</script>`, NOTHING),
  left('unknown elements', 'left-out-element', `${S}<sparkle/>`, NOTHING),
  left(
    '`filter`',
    'left-out-effect',
    `<filter id="f"><feMorphology radius="5"/></filter>${path('filter="url(#f)"')}`,
  ),
  left('`filter` functions', 'left-out-effect', style('filter: drop-shadow(9px 9px 0 black)')),
  left(
    '`mask`',
    'left-out-effect',
    `<mask id="m"><rect width="40" height="99" fill="white"/></mask>${path('mask="url(#m)"')}`,
  ),
  left(
    '`mask-image`',
    'unread-property',
    style('mask-image: linear-gradient(to right, transparent 40%, black)'),
  ),
  left(
    'markers',
    'left-out-effect',
    `<marker id="m" markerWidth="9" markerHeight="9"><path d="M0 0h9v9z"/></marker>${line('marker-end="url(#m)"')}`,
    LINE,
  ),
  left(
    '`marker` shorthand',
    'left-out-effect',
    `<marker id="m" markerWidth="9" markerHeight="9"><path d="M0 0h9v9z"/></marker>${style('marker:url(#m)')}`,
  ),
  left(
    'gradients as a paint',
    'plain-paint',
    `<linearGradient id="g"><stop stop-color="black" stop-opacity="0"/><stop offset="1"/></linearGradient>${path('fill="url(#g)"')}`,
  ),
  left(
    '`pattern` as a paint',
    'plain-paint',
    `<pattern id="g" width=".2" height=".2"><rect width="4" height="4"/></pattern>${path('fill="url(#g)"')}`,
  ),
  left(
    '`context-fill`, `context-stroke`',
    'plain-paint',
    `<defs>${path('id="u" fill="context-fill"')}</defs><use href="#u" fill="none"/>`,
  ),
  left(
    '`animate`, `set` and the like',
    'left-out-animation',
    `<path d="${D}"><set attributeName="fill" to="none" begin="0s"/></path>`,
    NOTHING,
  ),
  left(
    '`animation` property',
    'unread-property',
    css('@keyframes k{from,to{transform:translate(20px,20px)}} .a{animation:k 9s infinite}'),
  ),
  left('`mix-blend-mode`', 'unread-property', style('mix-blend-mode: multiply'), NOTHING),
  left('`outline`', 'unread-property', style('outline:5px solid black')),
  left('`outline-style`', 'unread-property', style('outline-style:solid;outline-width:5px')),
  left('`d: path()` with a fill rule', 'unread-value', style("d:path(evenodd,'M0 0h30v30h-30z')"), NOTHING),
  left(
    '`font` by `var()`',
    'unread-value',
    '<g style="--s:40px;font:var(--s) x"><rect width="1em" height="1em"/></g>',
    '<g style="font:16px x"><rect width="1em" height="1em"/></g>',
  ),
  left(
    '`font-family: monospace` with em',
    'unread-property',
    '<g style="font-family:monospace"><rect width="2em" height="2em"/></g>',
    '<rect width="2em" height="2em"/>',
  ),
  left('`offset-path`', 'unread-property', style("offset-path: path('M20 20L60 60'); offset-distance: 50%")),
  left(
    '`inline-size`, `block-size`',
    'unread-property',
    '<rect x="10" y="10" width="30" height="20" style="inline-size:60px"/>',
    '<rect x="10" y="10" width="30" height="20"/>',
  ),
  left(
    '`inline-size: auto` over an attribute',
    'unread-property',
    '<rect x="10" y="10" width="30" height="20" style="inline-size:auto"/><path d="M60 60h9v9z"/>',
    '<rect x="10" y="10" width="30" height="20"/><path d="M60 60h9v9z"/>',
  ),
  left(
    '`-webkit-mask-box-image`',
    'unread-property',
    style('-webkit-mask-box-image: linear-gradient(to right, transparent 40%, black) 0 fill'),
    NOTHING,
  ),
  left('`zoom`', 'unread-property', `<svg style="zoom:2" width="50" height="50">${S}</svg>`, NOTHING),
  left(
    '`all`',
    'unread-property',
    css('.a{all:initial}', `<g fill="none"><path class="a" d="${D}"/></g>`),
    NOTHING,
  ),
  left(
    '`overflow-x`, `overflow-y`',
    'unread-property',
    `<svg width="40" height="40" style="overflow-x:visible;overflow-y:visible">${S}</svg>`,
    NOTHING,
  ),
  left(
    '`overflow-block`, `overflow-inline`',
    'unread-property',
    `<svg width="40" height="40" style="overflow-block:visible;overflow-inline:visible">${S}</svg>`,
    `<svg width="40" height="40">${S}</svg>`,
  ),
  left(
    '`-webkit-transform-origin-x`, `-webkit-transform-origin-y`',
    'unread-property',
    '<rect x="10" y="10" width="30" height="10" style="-webkit-transform-origin-x:50px;transform:rotate(30deg)"/>',
    '<rect x="10" y="10" width="30" height="10" style="transform:rotate(30deg)"/>',
  ),
  left('basic shapes in `clip-path`', 'unread-value', style('clip-path: circle(12px)')),
  left('a `clip-path` without a target', 'unread-clip', path('clip-path="url(#no)"'), NOTHING),
  left(
    'a clip on a shape within a `clipPath`',
    'unread-clip',
    clipped(
      '<clipPath id="c"><rect width="70" height="70" clip-path="url(#k)"/></clipPath><clipPath id="k"><rect width="40" height="40"/></clipPath>',
    ),
    FULL,
  ),
  left(
    'a clip on an `svg` or `symbol` whose edge cuts off too',
    'unread-clip',
    `<clipPath id="c"><rect width="70" height="40"/></clipPath><svg x="10" width="50" height="50" clip-path="url(#c)"><path d="M0 0h90v90h-90z"/></svg>`,
    `<clipPath id="c"><rect width="70" height="40"/></clipPath><svg x="10" width="50" height="50"><path d="M0 0h90v90h-90z" clip-path="url(#c)"/></svg>`,
  ),
  left(
    'a clip on a `use` within a `clipPath`',
    'unread-clip',
    clipped(
      '<clipPath id="c"><use href="#u" clip-path="url(#k)"/></clipPath><clipPath id="k"><rect width="40" height="40"/></clipPath><defs><rect id="u" width="70" height="70"/></defs>',
    ),
    FULL,
  ),
  left(
    '`requiredExtensions` within a `clipPath`',
    'conditional',
    clipped(
      '<clipPath id="c"><rect width="40" height="40" requiredExtensions="urn:x"/><rect width="9" height="90"/></clipPath>',
    ),
    FULL,
  ),
  left(
    '`systemLanguage` within a `clipPath`',
    'other-language',
    clipped('<clipPath id="c"><rect width="40" height="40" systemLanguage="xx"/></clipPath>'),
    FULL,
  ),
  left(
    '`transform-box` of a `clipPath`',
    'unread-value',
    clipped(
      '<clipPath id="c" style="transform-box:fill-box;transform:rotate(45deg)"><rect x="9" width="70" height="70"/></clipPath>',
    ),
    FULL,
  ),
  left(
    'a box or a list beside the `url()` of a `clip-path`',
    'unread-value',
    `${CLIP}${style('clip-path:url(#c) fill-box')}`,
    NOTHING,
  ),
  left(
    '`text` within a `clipPath`',
    'unread-clip',
    clipped('<clipPath id="c"><text y="60" font-size="40">Text</text></clipPath>'),
    FULL,
  ),
  left(
    'a clip fitted to the box of a viewport',
    'unread-clip',
    `<clipPath id="c" clipPathUnits="objectBoundingBox"><rect width=".5" height=".5"/></clipPath><g clip-path="url(#c)"><svg width="80" height="80">${S}</svg>${S}</g>`,
    NOTHING,
  ),
  left(
    '3D `transform`: `rotateX`, `perspective`, `matrix3d`',
    'unread-value',
    style('transform: rotateX(50deg)'),
  ),
  left(
    '`transform-box: stroke-box`',
    'unread-value',
    path('stroke="black" stroke-width="9" style="transform-box:stroke-box;transform:scale(.5)"'),
    NOTHING,
  ),
  left(
    '`display: contents`',
    'unread-value',
    `<g style="display:contents;transform:translate(9px,9px)">${S}</g>`,
    NOTHING,
  ),
  left('ex, ch, lh, cap, ic', 'unread-value', '<rect x="1" y="1" width="9ex" height="9ch"/>', NOTHING),
  left(
    '`sin()`, `round()`, `pow()` and the like',
    'unread-value',
    rect('width: calc(20px * pow(2, 1.5))'),
    R,
  ),
  left('`stroke-linejoin: arcs`, `miter-clip`', 'unread-value', line('stroke-linejoin="arcs"'), NOTHING),
  left('other values of `vector-effect`', 'unread-value', line('vector-effect="fixed-position"'), NOTHING),
  left(
    '`inherit` of sizes, places and `overflow`',
    'unread-value',
    '<rect x="10" y="10" width="20" height="20" style="width:inherit"/>',
    '<rect x="10" y="10" width="20" height="20"/>',
  ),
  left('`revert-layer`', 'unread-value', `<path fill="none" style="fill:revert-layer" d="${D}"/>`, NOTHING),
  left('`:hover`, `:focus` and the like', 'unread-rule', css('.a:hover{fill:none}'), NOTHING),
  left('an invalid selector: its whole rule', 'unread-rule', css('.a,#1{fill:none}'), NOTHING),
  left('`:matches()`', 'unread-rule', css(':matches(.a){fill:none}'), NOTHING),
  left('`:has()`', 'unread-rule', css('svg:has(path) .a{fill:none}')),
  left('`:nth-child(of)`', 'unread-rule', css('.a:nth-child(1 of .a){fill:none}')),
  left('nested rules', 'unread-rule', css('svg{.a{fill:none}}')),
  left('`@import`', 'unread-rule', css('@import url(other.css);'), NOTHING),
  left('`@media` with sizes and features', 'unread-rule', css('@media (min-width:10px){.a{fill:none}}')),
  left('`@supports`', 'unread-rule', css('@supports (fill:red){.a{fill:none}}')),
  left('`@layer`', 'unread-rule', css('@layer x{.a{fill:none}}')),
  left('`@container`, `@scope`, `@property`', 'unread-rule', css('@scope (svg){.a{fill:none}}')),
  left(
    '`xml-stylesheet`',
    'unread-style-sheet',
    `<?xml-stylesheet href="other.css"?>${file('width="400" height="400"', S)}`,
    NOTHING,
  ),
  left('`use` of another file', 'unread-reference', `${S}<use href="other.svg#a"/>`, NOTHING),
  left('`use` without a target', 'unread-reference', `${S}<use href="#no"/>`, NOTHING),
  left('`use` of itself', 'unread-reference', `${S}<use id="u" href="#u"/>`, NOTHING),
  left(
    '`systemLanguage` in a `switch`',
    'other-language',
    `<switch><path systemLanguage="xx" d="M0 0h99v99z"/>${S}</switch>`,
    NOTHING,
  ),
  left('`systemLanguage` elsewhere', 'other-language', path('systemLanguage="xx"')),
  left(
    '`requiredExtensions`',
    'conditional',
    `${S}<path requiredExtensions="urn:x" d="M0 0h9v9z"/>`,
    NOTHING,
  ),
  left(
    'an empty `requiredExtensions`',
    'conditional',
    `<g requiredExtensions="">${S}</g><rect width="9" height="9"/>`,
    `${S}<rect width="9" height="9"/>`,
  ),
  left(
    '`href` of another namespace',
    'unread-reference',
    `<defs>${path('id="u"')}</defs><use xmlns:q="urn:q" q:href="#u"/>`,
    `<defs>${path('id="u"')}</defs><use href="#u"/>`,
  ),
  left(
    '`width`, `height` of the outermost svg that cannot be read',
    'unread-value',
    file('width="50ex" height="400" viewBox="0 0 100 100"', S),
    file('height="400" viewBox="0 0 100 100"', S),
  ),
  left(
    'values of attributes declared by `ATTLIST`',
    'unread-defaults',
    `<?xml version="1.0"?><!DOCTYPE svg [<!ATTLIST path fill CDATA "none">]>${file('width="400" height="400" viewBox="0 0 100 100"', S)}`,
    S,
  ),
  left(
    'a file that does not say that it is SVG',
    'without-namespace',
    `<?xml version="1.0"?><svg width="400" height="400">${S}</svg>`,
    NOTHING,
  ),
  left('invalid path data', 'unread-path-data', '<path d="M20 20h40v25h-20v20h-20zL90"/>', NOTHING),
  left('invalid points', 'unread-points', '<polygon points="20,20 60,20 40,60 9"/>', NOTHING),
  left(
    'shapes out of range',
    'out-of-range',
    `${S}<g transform="scale(1e9)"><path d="M0 0h1v1z"/></g>`,
    NOTHING,
  ),
  left(
    '`background`, `border`, `padding` of the outermost svg',
    'unread-property',
    file('width="400" height="400" viewBox="0 0 100 100" style="background:red"', S),
    S,
  ),
  left(
    'sides of `border` and `padding` of the outermost svg',
    'unread-property',
    file(
      'width="400" height="400" viewBox="0 0 100 100" style="border-left:9px solid;padding:0 0 0 50px"',
      S,
    ),
    S,
  ),
  left(
    '`max-width`, `min-height` and the like of the outermost svg',
    'unread-property',
    file('width="400" height="400" viewBox="0 0 100 100" style="max-width:200px"', S),
    NOTHING,
  ),
  left(
    '`border-radius` of the outermost svg',
    'unread-property',
    file('width="400" height="400" viewBox="0 0 100 100" style="border-radius:50%"', FULL),
    FULL,
  ),
  left(
    '`-webkit-box-reflect` of the outermost svg',
    'unread-property',
    file('width="400" height="400" viewBox="0 0 100 100" style="-webkit-box-reflect:below -400px"', S),
    S,
  ),
  left(
    '`border-image` of the outermost svg',
    'unread-property',
    file(
      'width="400" height="400" viewBox="0 0 100 100" style="border-image:linear-gradient(red,red) 1 / 40px"',
      S,
    ),
    S,
  ),
  left(
    '`direction`, `writing-mode` of the outermost svg',
    'unread-property',
    file('width="400" height="400" viewBox="0 0 100 100" direction="rtl" style="transform:rotate(5deg)"', S),
    file('width="400" height="400" viewBox="0 0 100 100" style="transform:rotate(5deg)"', S),
  ),
  left(
    '`margin`, `box-shadow` of the outermost svg',
    'unread-property',
    file(
      'width="400" height="400" viewBox="0 0 100 100" style="margin:20px;box-shadow:inset 0 0 0 30px black"',
      S,
    ),
    S,
  ),
  left(
    '`position`, `left`, `top`, `inset` of the outermost svg',
    'unread-property',
    file(
      'width="400" height="400" viewBox="0 0 100 100" style="position:absolute;clip:rect(0,150px,150px,0)"',
      S,
    ),
    S,
  ),
  left(
    '`width`, `height` of the outermost svg in a style',
    'unread-property',
    file('style="width:300px;height:200px" viewBox="0 0 100 100"', S),
    NOTHING,
  ),
];

/** What a browser may show nothing of, and burin cuts. */
export const CUT_FEATURES: readonly LeftOutFeature[] = [
  left('white over ink', 'white-over-ink', `${S}<path fill="#fff" d="M30 30h9v9h-9z"/>`, NOTHING),
  left(
    'white over ink, by `hsl()`, `hwb()` or a name',
    'white-over-ink',
    `${S}<path fill="hwb(0 100% 0%)" d="M30 30h9v9h-9z"/>`,
    NOTHING,
  ),
  left(
    '`lab()`, `lch()`, `oklab()`, `oklch()`, `color()`',
    'unknown-colour',
    `${S}<path style="fill:oklch(1 0 0)" d="M30 30h9v9h-9z"/>`,
    NOTHING,
  ),
  left(
    '`color-mix()`, `light-dark()`, `rgb(from)`, `calc()` in a colour',
    'unknown-colour',
    style('fill:color-mix(in srgb, transparent, transparent)'),
  ),
  left(
    'colours of the system',
    'unknown-colour',
    `${S}<path style="fill:Field" d="M30 30h9v9h-9z"/>`,
    NOTHING,
  ),
  left('paint that is nearly transparent', 'faint-paint', `<g opacity=".1">${path('fill-opacity=".1"')}</g>`),
  left('white under ink', 'white-under-ink', `<rect fill="white" width="100" height="100"/>${S}`, NOTHING),
  left('white alone', 'paper-colour', `${S}<path fill="rgb(255,255,255)" d="M80 80h9v9h-9z"/>`, NOTHING),
];
