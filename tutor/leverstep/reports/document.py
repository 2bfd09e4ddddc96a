"""What a report is made of, for every writer alike: headings, sentences, tables and bars.

All texts are plain text; each writer escapes them for what it writes.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction


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


Block = Heading | Words | Listing | Table | Bars | NewPage
