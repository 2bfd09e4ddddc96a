"""What the first screen hands to those that lie on it. Light, so that it is up at once."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from leverstep.working.guidance import Guidance

if TYPE_CHECKING:
    from leverstep.course.problem import Problem, Question


@dataclass(frozen=True, slots=True)
class Opening:
    """Which working to open: one to go on with at `path`, or a new one with these numbers.

    `own` is what the student typed of the own body. `guidance` is that of a new working; one that
    is gone on with keeps its own.
    """

    problem: Problem
    seed: str = ""
    path: Path | None = None
    own: tuple[str, ...] = ()
    guidance: Guidance = Guidance.LINES


@dataclass(frozen=True, slots=True)
class Showing:
    """Which question to show on the board."""

    question: Question


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
