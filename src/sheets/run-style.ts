import { INK, QUIET, SANS, SERIF } from './theme.js';

/** Styles of the run sheet: A4, black on white, to be written on. */
export const RUN_STYLE = `
@page { size: A4; margin: 14mm 14mm 18mm; @bottom-right { content: 'page ' counter(page) ' of ' counter(pages); font: 8.5pt Helvetica, Arial, sans-serif; color: ${QUIET}; } }
* { box-sizing: border-box; }
body { margin: 0 auto; max-width: 182mm; padding: 8mm 0; background: #fff; color: ${INK}; font: 10.5pt/1.4 ${SERIF}; }
h1 { font-size: 22pt; font-weight: normal; line-height: 1.15; margin: 0 0 1mm; }
h2 { font-size: 14pt; font-weight: normal; margin: 0 0 3mm; padding-top: 3mm; border-top: 0.4mm solid ${INK}; }
h3 { font: bold 9.5pt/1.3 ${SANS}; margin: 4mm 0 1.5mm; }
h1, h2, h3, dd, th, td, p, li { overflow-wrap: anywhere; }
p { margin: 0 0 2mm; }
.quiet, dt, thead th { color: ${QUIET}; }
dl { display: grid; grid-template-columns: minmax(17mm, max-content) 1fr; gap: 0.8mm 3mm; margin: 0; }
dt { font: 9pt/1.55 ${SANS}; max-width: 34mm; }
dd { margin: 0; }
.written { display: flex; gap: 8mm; margin: 5mm 0 7mm; }
.written span { flex: 1; border-bottom: 0.25mm solid ${INK}; padding-bottom: 0.5mm; height: 9mm; display: flex; align-items: flex-end; font: 9pt ${SANS}; color: ${QUIET}; }
.operation + .operation { break-before: page; }
.side { display: flex; gap: 8mm; align-items: flex-start; justify-content: space-between; }
.side > div { flex: 1; min-width: 0; }
figure { margin: 0; flex: none; text-align: center; }
figure svg { display: block; max-width: 100%; }
figcaption { font: 8.5pt/1.3 ${SANS}; color: ${QUIET}; max-width: 70mm; margin: 1mm auto 0; }
.cautions { border: 0.5mm solid ${INK}; padding: 2.5mm 4mm 2mm; margin: 5mm 0; break-inside: avoid; }
.cautions h3 { margin: 0 0 1.5mm; }
.cautions ul { margin: 0; padding-left: 5mm; font-size: 9.5pt; line-height: 1.35; }
.cautions li { margin-bottom: 0.8mm; }
.cautions cite { font-style: normal; font-size: 8.5pt; color: ${QUIET}; }
table { width: 100%; border-collapse: collapse; margin-top: 6mm; }
caption { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
thead { display: table-header-group; }
tr { break-inside: avoid; }
thead th { font: 8.5pt/1.25 ${SANS}; text-align: left; vertical-align: bottom; padding: 1mm 2mm 1mm 0; border-bottom: 0.4mm solid ${INK}; }
.again th { border-bottom: 0; color: ${INK}; padding-bottom: 1.5mm; }
tbody th, tbody td { height: 11mm; padding: 1mm 2mm 1mm 0; vertical-align: middle; text-align: left; border-bottom: 0.15mm solid ${QUIET}; }
tbody th { font-weight: normal; font-size: 16pt; line-height: 1.1; }
.done { width: 11mm; }
td.file { font: 9pt/1.3 ${SANS}; }
.time { width: 22mm; white-space: nowrap; font-variant-numeric: tabular-nums; }
.read { width: 40mm; }
.by { width: 24mm; }
.tick { display: block; width: 5mm; height: 5mm; border: 0.3mm solid ${INK}; }
.box { display: block; height: 8mm; border: 0.3mm solid ${INK}; }
tfoot { display: table-row-group; }
tfoot th, tfoot td { text-align: left; padding: 2mm 2mm 0 0; font-weight: bold; }
@media print { body { padding: 0; max-width: none; } }
`.trim();
