"""What a document tells as plain text, for a terminal of 80 columns."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator

from leverstep.course.plain_text import plain
from leverstep.diagram.layout import Picture
from leverstep.documents.blocks import (
    Bar,
    Bars,
    Heading,
    Listing,
    NewPage,
    Posed,
    RuledLine,
    Table,
    Told,
    Words,
)

WIDTH = 78
"""Columns of a line: of 80, one is left for a scroll bar."""

_BETWEEN = re.compile(r"(?<!\d) | (?![A-Za-z°])")
"""Where a text may be parted: between words, but not behind a number that a unit follows."""

_BAR = 40
_NARROWEST = 6
_GAP = 2


def text(blocks: Iterable[Told]) -> str:
    """Return blocks as lines of text, free of control signs."""
    return "\n\n".join("\n".join(lines_of(block)) for block in blocks) + "\n"


def columns_of(shown: str) -> int:
    """Return how many columns of a terminal a text takes up."""
    return sum(_columns(character) for character in shown)


def _columns(character: str) -> int:
    if unicodedata.combining(character):
        return 0
    return 2 if unicodedata.east_asian_width(character) in "WF" else 1


def padded(shown: str, width: int, right: bool = False) -> str:
    """Return a text with spaces behind it, before it if `right`, up to so many columns."""
    blank = " " * (width - columns_of(shown))
    return blank + shown if right else shown + blank


def wrapped(shown: str, width: int) -> list[str]:
    """Return a text in parts of at most so many columns; a word that is longer is cut.

    No number is parted from its unit, unless both together are longer.
    """
    lines = [""]
    for word in _words(shown, width):
        room = width - columns_of(lines[-1]) - 1
        if lines[-1] and columns_of(word) <= room:
            lines[-1] += f" {word}"
            continue
        if lines[-1]:
            lines.append("")
        for character in word:
            if columns_of(lines[-1]) + _columns(character) > width:
                lines.append("")
            lines[-1] += character
    return lines


def _words(shown: str, width: int) -> Iterator[str]:
    """Yield the words of a text, a number with its unit as one where that fits."""
    for word in _BETWEEN.split(plain(shown)):
        yield from [word] if columns_of(word) <= width else word.split(" ")


def lines_of(block: Told) -> Iterator[str]:
    """Yield the lines of a block."""
    match block:
        case Heading(level, told):
            lines = wrapped(told, WIDTH)
            yield from lines
            if level < 3:
                yield ("=" if level == 1 else "-") * max(map(columns_of, lines))
        case Words(told, _):
            yield from wrapped(told, WIDTH)
        case Listing(items):
            for item in items:
                first, *others = wrapped(item, WIDTH - 2)
                yield from (f"- {first}", *(f"  {other}" for other in others))
        case Table():
            yield from _table(block)
        case Bars(title, bars):
            yield from wrapped(title, WIDTH)
            yield from _chart(bars)
        case NewPage():
            yield "─" * WIDTH


def rule(length: int) -> str:
    """Return a rule of so many columns to write on."""
    return "_" * length


def name_and_date(whose: str) -> str:
    """Return the line at the top of a page for the name, unless that is known, and the date."""
    return f"Name: {plain(whose) or rule(34)}    Date: {rule(24)}"


def before_picture(posed: Posed) -> tuple[str, ...]:
    """Return the paragraphs of a problem that stand before its picture."""
    given = f"Given: {' · '.join(posed.given)}." if posed.given else ""
    return tuple(filter(None, (posed.statement, given, posed.sense)))


def picture_rows(picture: Picture) -> Iterator[str]:
    """Yield the rows of a picture that is made of characters."""
    yield from (plain(picture.lines[row]).rstrip() for row in picture.span)


def behind_picture(posed: Posed) -> tuple[str, ...]:
    """Return the paragraphs of a problem that stand behind its picture."""
    picture = posed.in_characters
    return (*picture.legend, picture.note, f"The picture in words. {posed.told}")


def ruled_line(line: RuledLine) -> Iterator[str]:
    """Yield a line to be written: what it asks for, and a rule behind what stands before it."""
    yield from wrapped(line.asks, WIDTH)
    prompt = plain(line.prompt)
    yield from ("", f"{prompt} {rule(WIDTH - len(prompt) - 1)}", "")


def ruled_space(count: int) -> Iterator[str]:
    """Yield so many rules for whatever is to be written."""
    for _ in range(count):
        yield from ("", rule(WIDTH))


def _chart(bars: tuple[Bar, ...]) -> Iterator[str]:
    shown = [(plain(bar.label), plain(bar.told)) for bar in bars]
    widest, longest = (max(map(columns_of, column)) for column in zip(*shown, strict=True))
    for bar, (label, told) in zip(bars, shown, strict=True):
        row = f"  {padded(label, widest)}  {padded(told, longest, right=True)}  "
        yield (row + "█" * round(_BAR * bar.size)).rstrip()


def _table(table: Table) -> Iterator[str]:
    widths = _widths(table)
    yield from _row(table.columns, widths, table.numbers)
    yield (" " * _GAP).join("─" * width for width in widths)
    for row in table.rows:
        yield from _row(row, widths, table.numbers)


def _widths(table: Table) -> list[int]:
    """Return the widths of the columns; the widest is narrowed until all fit.

    One that is as narrow as a number with its unit is left alone as long as others are wider.
    """
    columns = [*zip(table.columns, *table.rows, strict=True)]
    widths = [max(columns_of(plain(cell)) for cell in column) for column in columns]
    least = [max(_NARROWEST, *map(_longest_quantity, column)) for column in columns]
    while sum(widths) + _GAP * (len(widths) - 1) > WIDTH and max(widths) > _NARROWEST:
        wide = [place for place, width in enumerate(widths) if width > least[place]]
        widths[max(wide or range(len(widths)), key=widths.__getitem__)] -= 1
    return widths


def _longest_quantity(cell: str) -> int:
    """Return the columns of the longest number with its unit in a cell, 0 for none."""
    return max((columns_of(word) for word in _BETWEEN.split(plain(cell)) if " " in word), default=0)


def _row(cells: tuple[str, ...], widths: list[int], numbers: frozenset[int]) -> Iterator[str]:
    """Yield the lines that a row takes up."""
    parts = [wrapped(cell, width) for cell, width in zip(cells, widths, strict=True)]
    for line in range(max(len(part) for part in parts)):
        shown = (
            padded(part[line] if line < len(part) else "", width, place in numbers)
            for place, (part, width) in enumerate(zip(parts, widths, strict=True))
        )
        yield (" " * _GAP).join(shown).rstrip()
