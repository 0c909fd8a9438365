/** How the sheet looks: black on white, A4, lines that no page cuts through a text. */
export const sheetStyle = `
@page { size: A4; margin: 12mm }
* { box-sizing: border-box }
body { margin: 0 auto; max-width: 200mm; padding: 0 4mm; font: 10pt/1.35 'DejaVu Sans', Verdana, Arial, sans-serif; color: #000; background: #fff }
h1 { font-size: 18pt } h2 { font-size: 14pt; border-bottom: .5mm solid #000; margin-top: 10mm } h3 { font-size: 11pt }
h1, h2, h3, h4 { break-after: avoid }
h4 { margin: 0 0 1mm; font-size: 8pt; font-weight: normal }
a { color: inherit }
code, pre { font-family: 'DejaVu Sans Mono', monospace; font-size: 8.5pt; overflow-wrap: anywhere }
pre { white-space: pre-wrap; margin: 1mm 0 }
small { color: #444 }
table { border-collapse: collapse; width: 100%; table-layout: fixed; font-size: 8.5pt }
th, td { border: .2mm solid #777; padding: 1mm; text-align: left; vertical-align: top; overflow-wrap: anywhere }
tr, article, .step, .sign { break-inside: avoid }
nav ul { columns: 3; padding-left: 5mm; font-size: 9pt }
.says { border: .6mm solid #000; padding: 2mm 3mm }
.flow { margin: 3mm 0 }
.step { display: flex; align-items: stretch }
.lanes { position: relative; flex: none }
.lanes i { position: absolute; border-left: .25mm solid #333 }
.lanes u { position: absolute; right: 0; border-top: .25mm solid #333 }
.lanes u.into::after { content: ''; position: absolute; right: 0; top: -1.1mm; border: 1mm solid transparent; border-left: 1.6mm solid #000; border-right: 0 }
.box { flex: none; width: 66mm; border: .3mm solid #000; border-radius: 1.5mm; padding: 1mm 2mm; margin-bottom: 4mm; font-size: 8pt; position: relative; overflow-wrap: anywhere }
.box b { font-size: 9pt } .box span { display: block } .box.last { border-width: .8mm }
.box.next::after { content: ''; position: absolute; left: 8mm; top: 100%; height: 4mm; border-left: .25mm solid #333 }
.box.next::before { content: ''; position: absolute; left: 7mm; bottom: -4mm; border: 1mm solid transparent; border-top: 1.6mm solid #000; border-bottom: 0 }
.ways { flex: 1; margin: 0 0 4mm; padding: 0 0 0 6mm; font-size: 8pt; min-width: 0; overflow-wrap: anywhere }
article { border-top: .2mm solid #999; padding: 1mm 0 }
section, article, .step { scroll-margin-top: 22mm }
.two { display: grid; grid-template-columns: 1fr 1fr; gap: 4mm }
.screen { border: .3mm solid #000; border-radius: 2mm; padding: 1mm 2mm; margin-bottom: 1mm; background: #fff }
.screen, .words { font-size: 9pt }
.screen p, .words { margin: 0; white-space: pre-wrap; overflow-wrap: anywhere }
.screen small { display: block; text-align: right; font-size: 7pt }
.room { min-height: 7.2mm; background: repeating-linear-gradient(#fff 0 7mm, #999 7mm 7.2mm); -webkit-print-color-adjust: exact; print-color-adjust: exact }
[data-kind=text] .room { min-height: 21.6mm }
details { font-size: 8.5pt } textarea, input.note { width: 100%; font: inherit }
.changed { outline: .6mm solid #000; outline-offset: .5mm }
.pen { margin: .5mm 0 0; font-size: 7.5pt } .pen.wide { padding-bottom: 6mm }
.sign { display: grid; grid-template-columns: 2fr 2fr 1fr 2fr; gap: 4mm; margin: 6mm 0 }
.sign span { border-top: .2mm solid #000; padding-top: 1mm; margin-top: 9mm; font-size: 8pt }
.tick { width: 22mm }
#bar { position: sticky; top: 0; background: #fff; border-bottom: .4mm solid #000; padding: 2mm 0; z-index: 1 }
#bar label { margin-right: 3mm }
@media screen { .pen { display: none } section { content-visibility: auto; contain-intrinsic-size: auto 400mm } }
@media print { #bar, details:not([open]) { display: none } }
`;
