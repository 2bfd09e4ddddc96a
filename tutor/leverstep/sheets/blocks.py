"""What stands on paper besides the blocks of a report: a problem with its picture, room to write.

As there, all texts are plain text, and each writer escapes them for what it writes.
"""

from __future__ import annotations

from dataclasses import dataclass

from leverstep.diagram.layout import Picture
from leverstep.reports.document import Heading, Listing, NewPage, Table, Words

WIDTH, HEIGHT = 60, 18
"""Columns and rows of a picture that is drawn finely."""

PLAIN_WIDTH, PLAIN_HEIGHT = 72, 20
"""Columns and rows of one that is made of characters."""


LONG = 720
"""Characters of statement and givens above which they need more room than the picture."""

RULE = 8.2
"""Millimetres from one ruled line to the next."""


@dataclass(frozen=True, slots=True)
class SheetHead:
    """The top of a page: what it belongs to, whose it is, and where the date goes."""

    title: str
    whose: str


@dataclass(frozen=True, slots=True)
class Posed:
    """A problem as it is posed: paragraphs, and beside them its picture.

    `given` is what has a symbol, no value to be parted from it; `sense` says which moments are
    positive. `fine` is the picture for a pen, `plain` the one in characters; `told` says it in
    words.
    """

    statement: str
    given: tuple[str, ...]
    sense: str
    fine: Picture
    plain: Picture
    told: str

    @property
    def is_long(self) -> bool:
        """Return whether the words need more room than the picture."""
        return len(self.statement) + sum(map(len, self.given)) > LONG


@dataclass(frozen=True, slots=True)
class RuledLine:
    """A line to be written: what it asks for, and what stands before it."""

    asks: str
    prompt: str


@dataclass(frozen=True, slots=True)
class Lines:
    """Lines to be written, in `columns` columns, each with so many millimetres of room."""

    lines: tuple[RuledLine, ...]
    columns: int
    room: float

    @property
    def rows(self) -> int:
        """Return how many lines stand one under the other."""
        return -(-len(self.lines) // self.columns)


@dataclass(frozen=True, slots=True)
class Space:
    """Ruled lines for whatever is to be written."""

    count: int


@dataclass(frozen=True, slots=True)
class Whole:
    """Words and tables that stay on one page where they fit on one."""

    blocks: tuple[Told, ...]


Told = Heading | Words | Listing | Table | NewPage
Part = Told | SheetHead | Posed | Lines | Space | Whole
