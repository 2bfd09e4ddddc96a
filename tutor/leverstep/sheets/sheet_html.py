"""Sheets as one page of HTML that needs nothing else, for A4 and Letter, in black and white."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from leverstep.diagram.svg import svg
from leverstep.reports.html import escaped, lines_of, page_of
from leverstep.sheets.blocks import (
    RULE,
    WIDTH,
    Lines,
    Part,
    Posed,
    RuledLine,
    SheetHead,
    Space,
    Whole,
)

_STYLE = """
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


def html(title: str, parts: Iterable[Part]) -> str:
    """Return sheets as a page of HTML."""
    return page_of(title, (line for part in parts for line in _lines(part)), _STYLE)


def _lines(part: Part) -> Iterator[str]:
    match part:
        case SheetHead(title, whose):
            yield (
                f'<p class="head"><strong>{escaped(title)}</strong> Name '
                f'<span class="blank">{escaped(whose)}</span> Date '
                '<span class="blank"></span></p>'
            )
        case Posed():
            yield from _posed(part)
        case Lines(lines, columns, room):
            kind = "lines one" if columns == 1 else "lines"
            yield f'<div class="{kind}" style="--room: {room:g}mm">'
            yield from (_line(line) for line in lines)
            yield "</div>"
        case Space(count):
            yield '<div class="space">'
            yield from ['<div class="blank"></div>'] * count
            yield "</div>"
        case Whole(blocks):
            yield '<section class="whole">'
            yield from (line for block in blocks for line in lines_of(block))
            yield "</section>"
        case _:
            yield from lines_of(part)


def _posed(posed: Posed) -> Iterator[str]:
    picture = posed.fine
    yield f'<div class="posed{" long" if posed.is_long else ""}"><div>'
    yield f"<p>{escaped(posed.statement)}</p>"
    if posed.given:
        kept = (f'<span class="kept">{escaped(given)}</span>' for given in posed.given)
        yield f"<p>Given: {' · '.join(kept)}.</p>"
    yield f"<p>{escaped(posed.sense)}</p>"
    yield "</div><figure>"
    yield svg(WIDTH, picture.span, picture.strokes, picture.labels, posed.told)
    yield f"<figcaption>{escaped(' · '.join((*picture.legend, picture.note)))}</figcaption>"
    yield "</figure></div>"


def _line(line: RuledLine) -> str:
    return (
        f'<div class="line"><small>{escaped(line.asks)}</small>'
        f'<div class="write"><b>{escaped(line.prompt)}</b><span class="blank"></span></div></div>'
    )
