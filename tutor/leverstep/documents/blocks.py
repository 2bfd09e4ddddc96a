"""What documents are made of, for every writer alike: what is told, and what is for paper alone.

All texts are plain text; each writer escapes them for what it writes.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from leverstep.diagram.layout import SHEET, Picture

NOT_GIVEN = "–"
"""Stands in a cell where a figure is not given."""

WIDTH, HEIGHT = SHEET
"""Columns and rows of a picture that is drawn finely."""

PLAIN_WIDTH, PLAIN_HEIGHT = 72, 20
"""Columns and rows of one that is made of characters."""

LONG = 720
"""Characters of statement and givens above which they need more room than the picture."""

RULE = 8.2
"""Millimetres from one ruled line to the next."""


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading: `level` 1 for the whole, 2 for a part, 3 for a part of that."""

    level: int
    text: str


@dataclass(frozen=True, slots=True)
class Words:
    """A paragraph; one with `weight` is to be noticed, a `small` one stands back."""

    text: str
    weight: bool = False
    small: bool = False


@dataclass(frozen=True, slots=True)
class Listing:
    """A list of sentences."""

    items: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """A table: its columns by name, those that hold numbers by place, and its rows."""

    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    numbers: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar: what it stands for, how long it is (0 to 1), and its value in words."""

    label: str
    size: Fraction
    told: str


@dataclass(frozen=True, slots=True)
class Bars:
    """A chart of bars, and what it shows."""

    title: str
    bars: tuple[Bar, ...]


@dataclass(frozen=True, slots=True)
class NewPage:
    """Where a new page begins on paper."""


Told = Heading | Words | Listing | Table | Bars | NewPage
"""What can be read from a screen or heard as well as printed."""


@dataclass(frozen=True, slots=True)
class Whole:
    """What stays on one page where it fits on one."""

    blocks: tuple[Told, ...]


@dataclass(frozen=True, slots=True)
class SheetHead:
    """The top of a page: what it belongs to, whose it is, and where the date goes."""

    title: str
    whose: str


@dataclass(frozen=True, slots=True)
class Posed:
    """A problem as it is posed: paragraphs, and beside them its picture.

    `statement` is "" where another picture of it follows. `given` is what has a symbol, no value
    to be separated from it; `sense` says which moments are positive, in which of several postures.
    `fine` is the picture for a pen, `in_characters` the one to be typed; `told` says it in words.
    """

    statement: str
    given: tuple[str, ...]
    sense: str
    fine: Picture
    in_characters: Picture
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


Block = Told | Whole | SheetHead | Posed | Lines | Space


@dataclass(frozen=True, slots=True)
class Document:
    """A document for a file: its title, and its blocks in their order.

    One `for_paper` is to be handed out: in small black type, the caution at the end of every page
    even of a format that has no pages.
    """

    title: str
    blocks: tuple[Block, ...]
    for_paper: bool = False
