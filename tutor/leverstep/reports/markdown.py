"""A report as Markdown, with its tables as most editors and web pages read them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from leverstep.course.faults import plain
from leverstep.reports.document import Bars, Block, Heading, Listing, NewPage, Table, Words

_ENTITIES = {"&": "&amp;", "<": "&lt;", ">": "&gt;"}
_MARKUP = re.compile(r"[\\`*{}\[\]#|~$@]|(?<![^\W_])_|_(?![^\W_])|(?<! )=|=(?! )")
"""Signs that may be markup: no underscore within a word, no equals sign between spaces."""
_LINKED = re.compile(r"(?i)\b(www(?=\.)|(?:https?|ftp|mailto|xmpp)(?=:))")
"""What some readers make a link of."""
_AT_START = re.compile(r"^(?:[-+]+|\d+(?=[.)]))(?=[.)]?(?:\s|$))")
"""What would begin a list or draw a rule."""
_BAR = 20
"""Characters of the longest bar."""


def markdown(blocks: Iterable[Block]) -> str:
    """Return a report as Markdown."""
    return joined("\n".join(lines_of(block)) for block in blocks)


def joined(parts: Iterable[str]) -> str:
    """Return parts of a document with an empty line between them; empty ones are left out."""
    return "\n\n".join(part for part in parts if part) + "\n"


def escaped(text: str) -> str:
    """Return a text in which nothing is markup, on one line."""
    shown = "".join(_ENTITIES.get(c, c) for c in _MARKUP.sub(r"\\\g<0>", plain(text)))
    shown = _LINKED.sub(r"\g<0>\\", shown)
    return _AT_START.sub(_at_start, shown)


def _at_start(match: re.Match[str]) -> str:
    """Return a sign at the start with its last character as a number, so that it is only text."""
    sign = match.group()
    return f"{sign[:-1]}&#{ord(sign[-1])};"


def lines_of(block: Block) -> Iterator[str]:
    """Yield a block as lines of Markdown."""
    match block:
        case Heading(level, text):
            yield f"{'#' * level} {escaped(text)}"
        case Words(text, weight):
            yield f"**{escaped(text)}**" if weight else escaped(text)
        case Listing(items):
            yield from (f"- {escaped(item)}" for item in items)
        case Table(columns, rows, numbers):
            yield _row(columns)
            yield _rule("---:" if place in numbers else "---" for place in range(len(columns)))
            yield from (_row(row) for row in rows)
        case Bars(title, bars):
            yield _row((title, "", ""))
            yield _rule(("---", "---:", "---"))
            yield from (_row((b.label, b.told, "█" * round(_BAR * b.size))) for b in bars)
        case NewPage():
            yield "---"


def _row(cells: Iterable[str]) -> str:
    return f"| {' | '.join(escaped(cell) for cell in cells)} |"


def _rule(marks: Iterable[str]) -> str:
    return f"| {' | '.join(marks)} |"
