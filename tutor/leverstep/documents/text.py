"""What a document tells as plain text, for a terminal of 80 columns."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Iterator

from leverstep.course.plain_text import plain
from leverstep.documents.blocks import Bar, Bars, Heading, Listing, NewPage, Table, Told, Words

WIDTH = 78
"""Columns of a line: of 80, one is left for a scroll bar."""

_BAR = 40
_NARROWEST = 6
_GAP = 2


def text(blocks: Iterable[Told]) -> str:
    """Return blocks as lines of text, free of control signs."""
    return "\n\n".join("\n".join(_lines(block)) for block in blocks) + "\n"


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
    """Return a text in parts of at most so many columns; a word that is longer is cut."""
    lines = [""]
    for word in plain(shown).split(" "):
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


def _lines(block: Told) -> Iterator[str]:
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
    """Return the widths of the columns; the widest is narrowed until all fit."""
    rows = (table.columns, *table.rows)
    widths = [max(columns_of(plain(cell)) for cell in column) for column in zip(*rows, strict=True)]
    while sum(widths) + _GAP * (len(widths) - 1) > WIDTH and max(widths) > _NARROWEST:
        widths[widths.index(max(widths))] -= 1
    return widths


def _row(cells: tuple[str, ...], widths: list[int], numbers: frozenset[int]) -> Iterator[str]:
    """Yield the lines that a row takes up."""
    parts = [wrapped(cell, width) for cell, width in zip(cells, widths, strict=True)]
    for line in range(max(len(part) for part in parts)):
        shown = (
            padded(part[line] if line < len(part) else "", width, place in numbers)
            for place, (part, width) in enumerate(zip(parts, widths, strict=True))
        )
        yield (" " * _GAP).join(shown).rstrip()
