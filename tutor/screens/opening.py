"""What the home screen hands to the work screen. Light, so that the first screen is up at once."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from tutor.course.problem import Problem
from tutor.working.guidance import Guidance


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
