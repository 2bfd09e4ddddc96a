"""A document as Markdown, with its tables as most editors and web pages read them.

One for paper reads well as plain text too: its lines are short, its tables stand straight, what is
drawn or ruled stands in code, and the caution ends every page.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from leverstep.course.plain_text import plain
from leverstep.documents.blocks import (
    Bars,
    Block,
    Document,
    Heading,
    Lines,
    Listing,
    NewPage,
    Posed,
    SheetHead,
    Space,
    Table,
    Whole,
    Words,
)
from leverstep.documents.text import (
    WIDTH,
    before_picture,
    behind_picture,
    columns_of,
    name_and_date,
    padded,
    picture_rows,
    ruled_line,
    ruled_space,
    wrapped,
)
from leverstep.working.cautions import CAUTION

_ENTITIES = {"&": "&amp;", "<": "&lt;", ">": "&gt;"}
_MARKUP = re.compile(r"[\\`*{}\[\]#|~$@]|(?<![^\W_])_|_(?![^\W_])|(?<! )=|=(?! )")
"""Signs that may be markup: no underscore within a word, no equals sign between spaces."""
_LINKED = re.compile(r"(?i)\b(www(?=\.)|(?:https?|ftp|mailto|xmpp)(?=:))")
"""What some readers make a link of."""
_AT_START = re.compile(r"^(?:[-+]+|\d+(?=[.)]))(?=[.)]?(?:\s|$))")
"""What would begin a list or draw a rule."""
_BAR = 20
"""Characters of the longest bar."""


def markdown(document: Document) -> str:
    """Return a document as Markdown."""
    paper = document.for_paper
    blocks = (*document.blocks, Words(CAUTION)) if paper else document.blocks
    return _joined(blocks, paper) + "\n"


def _joined(blocks: Iterable[Block], paper: bool) -> str:
    """Return blocks with an empty line between them; empty ones are left out."""
    return "\n\n".join(filter(None, ("\n".join(_lines(block, paper)) for block in blocks)))


def escaped(text: str) -> str:
    """Return a text in which nothing is markup, on one line."""
    shown = "".join(_ENTITIES.get(c, c) for c in _MARKUP.sub(r"\\\g<0>", plain(text)))
    shown = _LINKED.sub(r"\g<0>\\", shown)
    return _AT_START.sub(_at_start, shown)


def _at_start(match: re.Match[str]) -> str:
    """Return a sign at the start with its last character as a number, so that it is only text."""
    sign = match.group()
    return f"{sign[:-1]}&#{ord(sign[-1])};"


def _lines(block: Block, paper: bool) -> Iterator[str]:
    """Yield a block as lines of Markdown."""
    match block:
        case Heading(level, text):
            yield f"{'#' * level} {escaped(text)}"
        case Words(text, weight):
            if weight:
                yield f"**{escaped(text)}**"
            else:
                yield from _paragraph(text) if paper else (escaped(text),)
        case Listing(items):
            yield from (f"- {escaped(item)}" for item in items)
        case Table():
            yield from _table(block, paper)
        case Bars(title, bars):
            rows = tuple((bar.label, bar.told, "█" * round(_BAR * bar.size)) for bar in bars)
            yield from _table(Table((title, "", ""), rows, frozenset({1})), paper)
        case NewPage():
            if paper:
                yield from (*_paragraph(CAUTION), "")
            yield "---"
        case Whole(blocks):
            yield _joined(blocks, paper)
        case SheetHead(title, whose):
            yield f"# {escaped(title)}"
            yield ""
            yield from _fenced([name_and_date(whose)])
        case Posed():
            yield from _posed(block)
        case Lines(lines):
            yield from _fenced(shown for line in lines for shown in ruled_line(line))
        case Space(count):
            yield from _fenced(ruled_space(count))


def _paragraph(text: str) -> Iterator[str]:
    """Yield a paragraph on lines that are short enough to be read as they stand."""
    yield from map(escaped, wrapped(text, WIDTH))


def _table(table: Table, straight: bool) -> Iterator[str]:
    """Yield a table; where it is to be `straight`, its columns stand one under the other."""
    rows = [[escaped(cell) for cell in row] for row in (table.columns, *table.rows)]
    write = _straight if straight else _as_it_is
    columns = [
        write(cells, place in table.numbers) for place, cells in enumerate(zip(*rows, strict=True))
    ]
    yield from (f"| {' | '.join(row)} |" for row in zip(*columns, strict=True))


def _as_it_is(cells: tuple[str, ...], to_the_right: bool) -> list[str]:
    """Return the cells of a column with a rule below the first."""
    head, *rest = cells
    return [head, "---:" if to_the_right else "---", *rest]


def _straight(cells: tuple[str, ...], to_the_right: bool) -> list[str]:
    """Return the cells of a column equally wide, with a rule below the first."""
    width = max(3, *map(columns_of, cells))
    head, *rest = (padded(cell, width, to_the_right) for cell in cells)
    return [head, "-" * (width - 1) + (":" if to_the_right else "-"), *rest]


def _posed(posed: Posed) -> Iterator[str]:
    for text in before_picture(posed):
        yield from (*_paragraph(text), "")
    yield from _fenced(picture_rows(posed.in_characters))
    for text in behind_picture(posed):
        yield from ("", *_paragraph(text))


def _fenced(lines: Iterable[str]) -> Iterator[str]:
    """Yield lines as a block of code, with a fence that none of them can end."""
    shown = list(lines)
    longest = max((len(run) for line in shown for run in re.findall("`+", line)), default=0)
    fence = "`" * max(3, longest + 1)
    yield f"{fence}text"
    yield from shown
    yield fence
