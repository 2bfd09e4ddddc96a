"""What a document tells as sentences, one to a line, for a screen reader to read out in order."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from leverstep.course.phrases import capital
from leverstep.course.plain_text import plain
from leverstep.documents.blocks import (
    NOT_GIVEN,
    Bars,
    Heading,
    Listing,
    NewPage,
    Table,
    Told,
    Words,
)


def spoken(blocks: Iterable[Told]) -> str:
    """Return blocks as lines of text without rules, bars and columns, free of control signs.

    Nothing is wrapped: each heading, sentence, bar and row of a table is one line.
    """
    parts = (list(_lines(block)) for block in blocks)
    return "\n\n".join("\n".join(map(plain, lines)) for lines in parts if lines) + "\n"


def _lines(block: Told) -> Iterator[str]:
    match block:
        case Heading(_, told) | Words(told, _):
            yield told
        case Listing(items):
            yield from items
        case Table(columns, rows, _):
            yield from (_row(columns, row) for row in rows)
        case Bars(title, bars):
            yield f"{title}:"
            yield from (f"{bar.label}: {bar.told}." for bar in bars)
        case NewPage():
            pass


def _row(columns: tuple[str, ...], cells: tuple[str, ...]) -> str:
    """Return a row as a sentence: its first cell, then each other with its column before it."""
    (_, first), *others = zip(columns, cells, strict=True)
    told = [
        f"{column.lower()}: {'not given' if cell == NOT_GIVEN else cell}"
        for column, cell in others
        if cell
    ]
    return f"{first}. {capital('; '.join(told))}."
