"""A report as sentences, one to a line, that a screen reader can read out in their order."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from leverstep.course.faults import plain
from leverstep.course.phrases import capital
from leverstep.reports.document import Bars, Block, Heading, Listing, NewPage, Table, Words
from leverstep.reports.report_phrases import NOT_GIVEN


def spoken(blocks: Iterable[Block]) -> str:
    """Return a report as lines of text without rules, bars and columns, free of control signs.

    Nothing is wrapped: each heading, sentence, bar and row of a table is one line.
    """
    parts = (list(_lines(block)) for block in blocks)
    return "\n\n".join("\n".join(map(plain, lines)) for lines in parts if lines) + "\n"


def _lines(block: Block) -> Iterator[str]:
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
