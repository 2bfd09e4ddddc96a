"""A document as one page of HTML that needs nothing else: no script, no font, no network.

It prints on A4 and on Letter, with the caution at the foot of every sheet of paper.
"""

from __future__ import annotations

import html as markup
from collections.abc import Iterator

from leverstep.course.plain_text import plain
from leverstep.diagram.svg import svg
from leverstep.documents.blocks import (
    WIDTH,
    Bar,
    Bars,
    Block,
    Document,
    Heading,
    Lines,
    Listing,
    NewPage,
    Posed,
    RuledLine,
    SheetHead,
    Space,
    Table,
    Whole,
    Words,
)
from leverstep.documents.html_style import STYLE, STYLE_FOR_PAPER
from leverstep.working.cautions import CAUTION

_ROW, _LABEL, _LONGEST, _TOLD = 22, 150, 360, 66
"""Sizes of a chart: the height of a row, then the widths of label, longest bar, and value."""


def html(document: Document) -> str:
    """Return a document as a page of HTML.

    In print a table frames its blocks, whose foot keeps room for the caution on every sheet of
    paper.
    """
    body = "\n".join(line for block in document.blocks for line in _lines(block))
    return f"""\
<!DOCTYPE html>
<html lang="en-GB">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{_escaped(document.title)}</title>
<style>
{STYLE}{STYLE_FOR_PAPER if document.for_paper else ""}
</style>
</head>
<body>
<p class="caution">{_escaped(CAUTION)}</p>
<table class="paper" role="presentation"><tbody><tr><td>
{body}
</td></tr></tbody><tfoot><tr><td></td></tr></tfoot></table>
</body>
</html>
"""


def _escaped(text: str) -> str:
    """Return a text in which nothing is markup, free of control signs."""
    return markup.escape(plain(text))


def _lines(block: Block) -> Iterator[str]:
    """Yield a block as lines of HTML."""
    match block:
        case Heading(level, text):
            yield f"<h{level}>{_escaped(text)}</h{level}>"
        case Words(text, weight, small):
            kind = ' class="weight"' if weight else ' class="small"' if small else ""
            yield f"<p{kind}>{_escaped(text)}</p>"
        case Listing(items):
            yield "<ul>"
            yield from (f"<li>{_escaped(item)}</li>" for item in items)
            yield "</ul>"
        case Table(columns, rows, numbers):
            yield "<table>"
            yield f"<thead>{_row('th', columns, numbers)}</thead>"
            yield "<tbody>"
            yield from (_row("td", row, numbers) for row in rows)
            yield "</tbody></table>"
        case Bars(title, bars):
            yield f"<figure><figcaption>{_escaped(title)}</figcaption>"
            yield from _chart(title, bars)
            yield "</figure>"
        case NewPage():
            yield '<div class="page"></div>'
        case Whole(blocks):
            yield '<section class="whole">'
            yield from (line for inside in blocks for line in _lines(inside))
            yield "</section>"
        case SheetHead(title, whose):
            yield (
                f'<p class="head"><strong>{_escaped(title)}</strong> Name '
                f'<span class="blank">{_escaped(whose)}</span> Date '
                '<span class="blank"></span></p>'
            )
        case Posed():
            yield from _posed(block)
        case Lines(lines, columns, room):
            kind = "lines one" if columns == 1 else "lines"
            yield f'<div class="{kind}" style="--room: {room:g}mm">'
            yield from (_line(line) for line in lines)
            yield "</div>"
        case Space(count):
            yield '<div class="space">'
            yield from ['<div class="blank"></div>'] * count
            yield "</div>"


def _row(tag: str, cells: tuple[str, ...], numbers: frozenset[int]) -> str:
    kinds = (' class="number"' if place in numbers else "" for place in range(len(cells)))
    told = (
        f"<{tag}{kind}>{_escaped(cell)}</{tag}>" for kind, cell in zip(kinds, cells, strict=True)
    )
    return f"<tr>{''.join(told)}</tr>"


def _chart(title: str, bars: tuple[Bar, ...]) -> Iterator[str]:
    """Yield a chart of bars as inline SVG; its values stand beside the bars as text."""
    width, height = _LABEL + _LONGEST + _TOLD, _ROW * len(bars)
    size = f'viewBox="0 0 {width} {height}"'
    yield f'<svg class="chart" {size} role="img" aria-label="{_escaped(title)}">'
    for place, bar in enumerate(bars):
        top, length = place * _ROW, round(_LONGEST * bar.size)
        yield (
            f'<text x="{_LABEL - 8}" y="{top + 16}" text-anchor="end">{_escaped(bar.label)}</text>'
            f'<rect x="{_LABEL}" y="{top + 3}" width="{length}" height="{_ROW - 6}"/>'
            f'<text x="{_LABEL + length + 6}" y="{top + 16}">{_escaped(bar.told)}</text>'
        )
    yield "</svg>"


def _posed(posed: Posed) -> Iterator[str]:
    picture = posed.fine
    yield f'<div class="posed{" long" if posed.is_long else ""}"><div>'
    if posed.statement:
        yield f"<p>{_escaped(posed.statement)}</p>"
    if posed.given:
        kept = (f'<span class="kept">{_escaped(given)}</span>' for given in posed.given)
        yield f"<p>Given: {' · '.join(kept)}.</p>"
    yield f"<p>{_escaped(posed.sense)}</p>"
    yield "</div><figure>"
    yield svg(WIDTH, picture.span, picture.strokes, picture.labels, posed.told)
    yield f"<figcaption>{_escaped(' · '.join((*picture.legend, picture.note)))}</figcaption>"
    yield "</figure></div>"


def _line(line: RuledLine) -> str:
    return (
        f'<div class="line"><small>{_escaped(line.asks)}</small>'
        f'<div class="write"><b>{_escaped(line.prompt)}</b><span class="blank"></span></div></div>'
    )
