"""A report as one page of HTML that needs nothing else: no script, no font, no network.

It prints on A4 and on Letter, with the caution at the foot of every sheet of paper. The colours are
those of `screens.themes` on paper.
"""

from __future__ import annotations

import html
from collections.abc import Iterable, Iterator

from leverstep.course.faults import plain
from leverstep.reports.document import Bar, Bars, Block, Heading, Listing, NewPage, Table, Words
from leverstep.working.wording import CAUTION

_STYLE = """\
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

_ROW, _LABEL, _LONGEST, _TOLD = 22, 150, 360, 66
"""Sizes of a chart: the height of a row, then the widths of label, longest bar, and value."""


def page(title: str, blocks: Iterable[Block]) -> str:
    """Return a page of HTML with some blocks."""
    return page_of(title, (line for block in blocks for line in lines_of(block)))


def page_of(title: str, lines: Iterable[str], style: str = "") -> str:
    """Return a page of HTML with some lines of HTML in it, and rules of style besides its own.

    In print a table frames them, whose foot keeps room for the caution on every sheet of paper.
    """
    body = "\n".join(lines)
    return f"""\
<!DOCTYPE html>
<html lang="en-GB">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{escaped(title)}</title>
<style>
{_STYLE}{style}
</style>
</head>
<body>
<p class="caution">{escaped(CAUTION)}</p>
<table class="paper" role="presentation"><tbody><tr><td>
{body}
</td></tr></tbody><tfoot><tr><td></td></tr></tfoot></table>
</body>
</html>
"""


def escaped(text: str) -> str:
    """Return a text in which nothing is markup, free of control signs."""
    return html.escape(plain(text))


def lines_of(block: Block) -> Iterator[str]:
    """Yield a block as lines of HTML."""
    match block:
        case Heading(level, text):
            yield f"<h{level}>{escaped(text)}</h{level}>"
        case Words(text, weight, small):
            kind = ' class="weight"' if weight else ' class="small"' if small else ""
            yield f"<p{kind}>{escaped(text)}</p>"
        case Listing(items):
            yield "<ul>"
            yield from (f"<li>{escaped(item)}</li>" for item in items)
            yield "</ul>"
        case Table(columns, rows, numbers):
            yield "<table>"
            yield f"<thead>{_row('th', columns, numbers)}</thead>"
            yield "<tbody>"
            yield from (_row("td", row, numbers) for row in rows)
            yield "</tbody></table>"
        case Bars(title, bars):
            yield f"<figure><figcaption>{escaped(title)}</figcaption>"
            yield from _chart(title, bars)
            yield "</figure>"
        case NewPage():
            yield '<div class="page"></div>'


def _row(tag: str, cells: tuple[str, ...], numbers: frozenset[int]) -> str:
    kinds = (' class="number"' if place in numbers else "" for place in range(len(cells)))
    told = (
        f"<{tag}{kind}>{escaped(cell)}</{tag}>" for kind, cell in zip(kinds, cells, strict=True)
    )
    return f"<tr>{''.join(told)}</tr>"


def _chart(title: str, bars: tuple[Bar, ...]) -> Iterator[str]:
    """Yield a chart of bars as inline SVG; its values stand beside the bars as text."""
    width, height = _LABEL + _LONGEST + _TOLD, _ROW * len(bars)
    size = f'viewBox="0 0 {width} {height}"'
    yield f'<svg class="chart" {size} role="img" aria-label="{escaped(title)}">'
    for place, bar in enumerate(bars):
        top, length = place * _ROW, round(_LONGEST * bar.size)
        yield (
            f'<text x="{_LABEL - 8}" y="{top + 16}" text-anchor="end">{escaped(bar.label)}</text>'
            f'<rect x="{_LABEL}" y="{top + 3}" width="{length}" height="{_ROW - 6}"/>'
            f'<text x="{_LABEL + length + 6}" y="{top + 16}">{escaped(bar.told)}</text>'
        )
    yield "</svg>"
