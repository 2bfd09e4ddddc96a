"""Sheets as Markdown that reads well as plain text: what is drawn or ruled stands in code.

The caution ends every page.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from leverstep.course.faults import plain
from leverstep.reports.document import NewPage, Table, Words
from leverstep.reports.markdown import escaped, joined, lines_of
from leverstep.reports.text import columns_of, wrapped
from leverstep.sheets.blocks import Lines, Part, Posed, RuledLine, SheetHead, Space, Whole
from leverstep.working.wording import CAUTION

_WIDTH = 78
"""Columns of a code block."""


def markdown(parts: Iterable[Part]) -> str:
    """Return sheets as Markdown."""
    return joined("\n".join(_lines(part)) for part in (*parts, Words(CAUTION)))


def _lines(part: Part) -> Iterator[str]:
    match part:
        case SheetHead(title, whose):
            yield f"# {escaped(title)}"
            yield ""
            yield from _fenced([f"Name: {plain(whose) or _rule(34)}    Date: {_rule(24)}"])
        case Posed():
            yield from _posed(part)
        case Words(text, weight) if not weight:
            yield from _paragraph(text)
        case Table():
            yield from _table(part)
        case Lines(lines):
            yield from _fenced(shown for line in lines for shown in _line(line))
        case Space(count):
            yield from _fenced(shown for _ in range(count) for shown in ("", _rule(_WIDTH)))
        case NewPage():
            yield from (*_paragraph(CAUTION), "", *lines_of(part))
        case Whole(blocks):
            yield joined("\n".join(_lines(block)) for block in blocks).rstrip("\n")
        case _:
            yield from lines_of(part)


def _posed(posed: Posed) -> Iterator[str]:
    given = f"Given: {' · '.join(posed.given)}." if posed.given else ""
    for text in filter(None, (posed.statement, given, posed.sense)):
        yield from (*_paragraph(text), "")
    picture = posed.plain
    yield from _fenced(plain(picture.lines[row]).rstrip() for row in picture.span)
    for text in (*picture.legend, picture.note, f"The picture in words. {posed.told}"):
        yield from ("", *_paragraph(text))


def _paragraph(text: str) -> Iterator[str]:
    """Yield a paragraph on lines that are short enough to be read as they stand."""
    yield from map(escaped, wrapped(text, _WIDTH))


def _table(table: Table) -> Iterator[str]:
    """Yield a table whose columns stand one under the other."""
    rows = [[escaped(cell) for cell in row] for row in (table.columns, *table.rows)]
    columns = [
        _column(cells, place in table.numbers)
        for place, cells in enumerate(zip(*rows, strict=True))
    ]
    yield from (f"| {' | '.join(row)} |" for row in zip(*columns, strict=True))


def _column(cells: tuple[str, ...], to_the_right: bool) -> list[str]:
    """Return the cells of a column equally wide, with a rule below the first."""
    width = max(3, *map(columns_of, cells))
    spaces = [" " * (width - columns_of(cell)) for cell in cells]
    pairs = zip(spaces, cells, strict=True)
    head, *rest = (space + cell if to_the_right else cell + space for space, cell in pairs)
    return [head, "-" * (width - 1) + (":" if to_the_right else "-"), *rest]


def _line(line: RuledLine) -> Iterator[str]:
    yield from wrapped(line.asks, _WIDTH)
    prompt = plain(line.prompt)
    yield from ("", f"{prompt} {_rule(_WIDTH - len(prompt) - 1)}", "")


def _rule(length: int) -> str:
    return "_" * length


def _fenced(lines: Iterable[str]) -> Iterator[str]:
    """Yield lines as a block of code, with a fence that none of them can end."""
    shown = list(lines)
    longest = max((len(run) for line in shown for run in re.findall("`+", line)), default=0)
    fence = "`" * max(3, longest + 1)
    yield f"{fence}text"
    yield from shown
    yield fence
