"""What the first screen hands to those that lie on it. Light, so that it is up at once."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from leverstep.course.problem import Question


@dataclass(frozen=True, slots=True)
class Showing:
    """Which question to show on the board, worked, or as somebody else has it with some slips."""

    question: Question
    slips_to_find: int = 0


@dataclass(frozen=True, slots=True)
class Touring:
    """That the tour is to be opened."""


@dataclass(frozen=True, slots=True)
class Entrance:
    """Which drill to sit: the path of its file, the student where known, and the records' folder.

    `folder` is None for the user's data folder.
    """

    path: Path
    student: str = ""
    folder: Path | None = None


@dataclass(frozen=True, slots=True)
class Exploring:
    """Which question to explore: its title, what makes it, and the symbol on the axis, if any."""

    title: str
    make: Callable[[], Question]
    over: str = ""
