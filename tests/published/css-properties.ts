/** Properties that put no ink of a drawing elsewhere, whatever their values, by what they are for. */
const HARMLESS_OF: Readonly<Record<string, string>> = {
  'how text is set, which is left out with a remark': `
    -webkit-box-decoration-break -webkit-font-smoothing -webkit-line-break -webkit-locale -webkit-rtl-ordering
    -webkit-ruby-position -webkit-text-combine -webkit-text-decorations-in-effect -webkit-text-fill-color
    -webkit-text-orientation -webkit-text-security -webkit-text-stroke-color -webkit-text-stroke-width
    alignment-baseline baseline-shift baseline-source box-decoration-break
    dominant-baseline font-feature-settings font-kerning font-optical-sizing font-palette font-size-adjust font-stretch
    font-style font-synthesis-small-caps font-synthesis-style font-synthesis-weight font-variant-alternates
    font-variant-caps font-variant-east-asian font-variant-emoji font-variant-ligatures font-variant-numeric
    font-variant-position font-variation-settings font-weight hyphenate-character
    hyphenate-limit-chars hyphens initial-letter letter-spacing line-break line-height math-depth math-shift math-style
    orphans overflow-wrap quotes ruby-align ruby-position speak tab-size text-align text-align-last text-anchor
    text-autospace text-box-edge text-box-trim text-combine-upright text-decoration-color text-decoration-line
    text-decoration-skip-ink text-decoration-style text-decoration-thickness text-emphasis-color
    text-emphasis-position text-emphasis-style text-indent text-orientation text-overflow text-rendering text-shadow
    text-size-adjust text-spacing-trim text-transform text-underline-offset text-underline-position text-wrap-mode
    text-wrap-style unicode-bidi vertical-align white-space-collapse widows word-break word-spacing`,
  'how boxes of a page are laid out, of which a drawing has only the outermost': `
    -webkit-border-horizontal-spacing -webkit-border-vertical-spacing -webkit-box-align -webkit-box-direction
    -webkit-box-flex -webkit-box-ordinal-group -webkit-box-orient -webkit-box-pack -webkit-line-clamp align-content
    align-items align-self anchor-name anchor-scope aspect-ratio border-collapse box-sizing break-after break-before
    break-inside caption-side clear column-count column-fill column-gap column-rule-color column-rule-style
    column-rule-width column-span column-width contain contain-intrinsic-block-size contain-intrinsic-height
    contain-intrinsic-inline-size contain-intrinsic-width container-name container-type content counter-increment
    counter-reset counter-set empty-cells field-sizing flex-basis flex-direction flex-grow flex-shrink flex-wrap float
    grid-auto-columns grid-auto-flow grid-auto-rows grid-column-end grid-column-start grid-row-end grid-row-start
    grid-template-areas grid-template-columns grid-template-rows interpolate-size justify-content justify-items
    justify-self list-style-image list-style-position list-style-type object-fit object-position order overlay page
    page-orientation position-anchor position-area position-try-fallbacks position-try-order position-visibility
    reading-flow reading-order row-gap shape-image-threshold shape-margin shape-outside size table-layout`,
  'what a reader of a page does': `
    -webkit-tap-highlight-color -webkit-user-drag -webkit-user-modify app-region caret-animation caret-color cursor
    interactivity overflow-anchor overscroll-behavior-block overscroll-behavior-inline overscroll-behavior-x
    overscroll-behavior-y pointer-events resize scroll-behavior scroll-initial-target scroll-margin-block-end
    scroll-margin-block-start scroll-margin-bottom scroll-margin-inline-end scroll-margin-inline-start
    scroll-margin-left scroll-margin-right scroll-margin-top scroll-marker-group scroll-padding-block-end
    scroll-padding-block-start scroll-padding-bottom scroll-padding-inline-end scroll-padding-inline-start
    scroll-padding-left scroll-padding-right scroll-padding-top scroll-snap-align scroll-snap-stop scroll-snap-type
    scroll-target-group scroll-timeline-axis scroll-timeline-name scrollbar-color scrollbar-gutter scrollbar-width
    touch-action user-select`,
  'change over time, which needs an animation or a change of the page': `
    animation-composition animation-delay animation-direction animation-duration animation-fill-mode
    animation-iteration-count animation-play-state animation-range-end animation-range-start animation-timeline
    animation-timing-function timeline-scope transition-behavior transition-delay transition-duration
    transition-property transition-timing-function view-timeline-axis view-timeline-inset view-timeline-name
    view-transition-class view-transition-group view-transition-name will-change`,
  'colours, and how edges are blended': `
    accent-color backdrop-filter background-blend-mode buffered-rendering color-interpolation
    color-interpolation-filters color-rendering color-scheme dynamic-range-limit flood-color flood-opacity
    forced-color-adjust image-orientation image-rendering isolation lighting-color print-color-adjust shape-rendering
    stop-color stop-opacity`,
  'order, which one colour does not show': 'paint-order z-index',
  'parts of what is remarked on, and of no effect without it': `
    -webkit-mask-box-image-outset -webkit-mask-box-image-repeat -webkit-mask-box-image-slice
    -webkit-mask-box-image-width -webkit-mask-position-x -webkit-mask-position-y -webkit-perspective-origin-x
    -webkit-perspective-origin-y -webkit-transform-origin-z background-attachment background-clip background-origin
    background-position-x background-position-y background-repeat background-size border-block-end-color
    border-block-end-width border-block-start-color border-block-start-width border-bottom-color border-bottom-width
    border-image-outset border-image-repeat border-image-slice border-image-width border-inline-end-color
    border-inline-end-width border-inline-start-color border-inline-start-width border-left-color border-left-width
    border-right-color border-right-width border-top-color border-top-width clip corner-bottom-left-shape
    corner-bottom-right-shape corner-end-end-shape corner-end-start-shape corner-start-end-shape
    corner-start-start-shape corner-top-left-shape corner-top-right-shape mask-clip mask-composite mask-mode
    mask-origin mask-repeat mask-size mask-type offset-anchor offset-distance offset-position offset-rotate
    outline-color outline-offset outline-width overflow-clip-margin perspective-origin transform-style`,
  'how the outermost svg looks as a part of a page': 'appearance',
};

export const HARMLESS: ReadonlySet<string> = new Set(
  Object.values(HARMLESS_OF).flatMap((names) => names.trim().split(/\s+/)),
);

/** Run in a page: the names of all CSS properties that it knows, prefixed ones too, each with the longhands that it sets. */
export const LONGHANDS_IN_PAGE = `(() => {
  const names = new Set();
  const hyphenated = (name) =>
    name.replace(/[A-Z]/g, (c) => '-' + c.toLowerCase()).replace(/^(?=(?:webkit|epub|moz|ms)-)/, '-');
  const style = document.createElementNS('http://www.w3.org/2000/svg', 'g').style;
  for (const name in style) names.add(hyphenated(name));
  for (const name of getComputedStyle(document.documentElement)) names.add(name);
  const made = {};
  for (const name of names) {
    style.cssText = '';
    style.setProperty(name, 'inherit');
    if (style.length > 0) made[name] = [...style];
  }
  return made;
})()`;

/** Values of every kind that properties take. */
const VALUES = [
  'none hidden visible collapse clip scroll auto normal both all contents block inline flex grid list-item table',
  'left right center top bottom start end below above border-box fill-box content-box strict paint size flat',
  'preserve-3d vertical-rl rtl contain cover fill red transparent fixed absolute sticky infinite 1s solid round',
  'square bevel evenodd skip multiply thick math monospace bold small slice horizontal column wrap allow-discrete',
  'inside outside hide mixed over under add alpha luminance paused ease exact standard',
  '0 2 0.5 -5 5 50% 20px -10px 2em 30deg',
].flatMap((line) => line.split(' '));
const LONGER_VALUES = [
  '20px 30px',
  '1 / 2',
  '5px solid',
  'x 60deg',
  '1 2',
  'url(#c)',
  "path('M0 0L90 90')",
  'circle(10px)',
  'inset(10px)',
  'linear-gradient(transparent,red)',
  'linear-gradient(red,red) 1 / 30px',
  'blur(9px)',
  'opacity(0)',
  '2px 2px 9px red',
  '9px 4px',
  "'x'",
];

const ELEMENTS = {
  outermost: ['', '<rect x="20" y="20" width="40" height="30"/>'],
  'outermost, as a list item': ['display:list-item;overflow:hidden', '<rect x="-9" width="40" height="30"/>'],
  'outermost, turned': ['transform:rotate(5deg);overflow:visible', '<rect x="20" width="40" height="30"/>'],
  rect: [
    '',
    '<rect x="20" y="20" width="40" height="30" rx="4" stroke="black" stroke-width="3" style="fill-rule:nonzero;transform:rotate(10deg);font-size:10px;@"/>',
  ],
  path: [
    '',
    '<path d="M20 20H70V70H30V40z" fill="none" stroke="black" stroke-width="4" stroke-dasharray="9 3" style="transform-origin:9px 9px;rotate:9deg;@"/>',
  ],
  g: [
    '',
    '<g style="font-size:10px;@"><rect x="20" y="20" width="3em" height="30" clip-path="url(#c)"/></g>',
  ],
  svg: [
    '',
    '<svg x="10" y="10" width="50" height="40" viewBox="0 0 20 20" style="@"><rect x="5" y="-5" width="30" height="12"/></svg>',
  ],
  'svg that shows what is outside': [
    '',
    '<svg x="10" y="10" width="50" height="40" style="overflow:visible;@"><rect x="5" y="-5" width="60" height="12"/></svg>',
  ],
  use: ['', '<use href="#r" x="10" y="10" style="transform:translate(5px,5px);@"/>'],
} as const;

/** Run in a page: where ink moves when all these properties have one value each that they can have, and how many did. */
export const movedInPage = (names: Iterable<string>): string => `(async () => {
  const elements = ${JSON.stringify(ELEMENTS)};
  const defs = '<defs><rect id="r" width="20" height="20"/><clipPath id="c"><circle cx="40" cy="40" r="15"/></clipPath></defs>';
  const file = (on, declared) => {
    const [own, inner] = elements[on];
    const outer = on.startsWith('outermost') ? own + ';' + declared : own;
    return '<svg xmlns="http://www.w3.org/2000/svg" width="400" height="400" viewBox="0 0 100 100" style="' +
      outer + '">' + defs + inner.replace('@', declared) + '</svg>';
  };
  const context = new OffscreenCanvas(100, 100).getContext('2d', { willReadFrequently: true });
  const inkOf = async (svg) => {
    const image = new Image();
    image.src = 'data:image/svg+xml;charset=utf-8,' + encodeURIComponent(svg);
    await image.decode();
    context.clearRect(0, 0, 100, 100);
    context.drawImage(image, 0, 0, image.naturalWidth / 4, image.naturalHeight / 4);
    return context.getImageData(0, 0, 100, 100).data;
  };
  const moved = [];
  const tried = new Set();
  const names = ${JSON.stringify([...names])};
  for (const on of Object.keys(elements)) {
    const before = await inkOf(file(on, ''));
    const moves = async (declared) => {
      const after = await inkOf(file(on, declared.join(';')));
      let different = 0;
      for (let k = 3; k < before.length; k += 4) if (Math.abs(before[k] - after[k]) > 128) different++;
      return different > 15;
    };
    for (const value of ${JSON.stringify([...VALUES, ...LONGER_VALUES])}) {
      const able = names.filter((name) => CSS.supports(name, value));
      for (const name of able) tried.add(name);
      const declared = able.map((name) => name + ':' + value);
      if (!(await moves(declared))) continue;
      let blamed = 0;
      for (const one of declared) if (await moves([one])) blamed = moved.push(on + ' ' + one);
      if (blamed === 0) moved.push(on + ' ' + value + ' of several');
    }
  }
  return { moved, tried: [...tried] };
})()`;

/** Run in a page: those of the properties that an attribute of their name sets too. */
export const attributesInPage = (names: Iterable<string>): string => `(() => {
  const svg = document.createElementNS('http://www.w3.org/2000/svg', 'svg');
  document.body.append(svg);
  const names = ${JSON.stringify([...names])};
  const set = names.filter((name) => {
    if (name.startsWith('-')) return false;
    const before = getComputedStyle(svg)[name];
    return ${JSON.stringify([...VALUES, ...LONGER_VALUES])}.some((value) => {
      if (!CSS.supports(name, value)) return false;
      svg.setAttribute(name, value);
      const after = getComputedStyle(svg)[name];
      svg.removeAttribute(name);
      return after !== before;
    });
  });
  svg.remove();
  return set;
})()`;
