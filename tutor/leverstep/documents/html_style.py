"""How documents look as HTML, on a screen and in print on A4 and on Letter.

The colours are those of `screens.themes` on paper.
"""

from __future__ import annotations

from leverstep.documents.blocks import RULE

STYLE = """\
body { max-width: 46rem; margin: 2rem auto; padding: 0 1rem; color: #1C2429; background: #fff;
  font: 1rem/1.45 Georgia, "Times New Roman", serif; }
h1, h2, h3 { color: #2F5B72; line-height: 1.2; break-after: avoid; }
h1 { font-size: 1.6rem; } h2 { font-size: 1.25rem; margin-top: 2rem; } h3 { font-size: 1.05rem; }
.weight { border-left: 4px solid #A84300; padding-left: .6rem; font-weight: bold; }
.small { font-size: .85rem; }
table { border-collapse: collapse; width: 100%; margin: .6rem 0 1.2rem; font-size: .9rem; }
th, td { text-align: left; vertical-align: top; padding: .25rem .5rem; overflow-wrap: anywhere;
  border-bottom: 1px solid #C9CFD2; }
th { border-bottom-color: #2F5B72; overflow-wrap: normal; }
th:first-child, td:first-child { min-width: 4.4em; }
.number { text-align: right; white-space: nowrap; }
th.number { white-space: normal; }
figure { margin: 1rem 0; break-inside: avoid; } figcaption { font-weight: bold; }
svg { display: block; width: 100%; max-width: 36rem; height: auto; }
.chart text { font: 14px Georgia, "Times New Roman", serif; fill: #1C2429; }
.chart rect { fill: #2F5B72; }
.paper, .paper > * > tr > td { display: block; margin: 0; border: 0; padding: 0;
  font-size: inherit; }
.caution { display: none; }
@page { margin: 12mm 15mm; }
@media print {
  .paper { display: table; } .paper > * > tr > td { display: table-cell; }
  .paper > * > tr { break-inside: auto; } .paper > tfoot > tr > td { height: 9mm; }
  .caution { display: block; position: fixed; bottom: 0; left: 0; right: 0; margin: 0;
    padding-top: 1mm; border-top: .5pt solid #777; font-size: 7.5pt; text-align: center; }
  body { margin: 0; max-width: none; padding: 0; font-size: 10.5pt; }
  .page { break-before: page; }
  tr { break-inside: avoid; } thead { display: table-header-group; }
  .chart rect { print-color-adjust: exact; -webkit-print-color-adjust: exact; }
}"""

STYLE_FOR_PAPER = """
.head { display: flex; gap: .6rem; align-items: baseline; margin: 0 0 .4rem; }
.head strong { margin-right: 1rem; } .head .blank { flex: 1; }
.blank { border-bottom: 1px solid #555; }
.head + h2 { margin-top: .8rem; }
.posed { display: flex; gap: 1rem; align-items: start; margin-bottom: .4rem; }
.posed figure { margin: 0; flex: 1; }
.posed > div { width: 47%; } .posed.long > div { width: 54%; }
.posed p { margin: 0 0 .4rem; }
.posed svg { max-width: none; } .kept { white-space: nowrap; }
figcaption { font-weight: normal; font-size: .85em; }
.lines { columns: 2; column-gap: 1.6rem; } .lines.one { columns: 1; }
.line { break-inside: avoid; display: flex; flex-direction: column; justify-content: flex-end;
  min-height: var(--room); }
.line small { font-size: .76em; line-height: 1.15; padding-top: .25em; }
.line .write { min-height: 4.7mm; display: flex; align-items: flex-end; gap: .4rem; }
.write .blank { flex: 1; }
.space .blank { height: RULEmm; }
.whole { break-inside: avoid; }
@media screen { .caution { display: block; font-size: .85rem; } }
@media print {
  body { font-size: 9.5pt; line-height: 1.3; }
  h1 { font-size: 15pt; } h2 { font-size: 12.5pt; margin: 0 0 2mm; } h3 { font-size: 11pt; }
  h1, h2, h3, h4 { color: #000; } p, ul { margin: 0 0 2mm; }
  .whole table { line-height: 1.2; margin: .4rem 0 1rem; }
  .whole th, .whole td { padding: .13rem .5rem; }
}""".replace("RULE", f"{RULE:g}")
"""What is added to that for a document made for paper: small type in black, and ruled lines."""
