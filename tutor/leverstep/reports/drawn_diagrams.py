"""The free-body diagrams of a class: how much of each was right, and which slips were made."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from fractions import Fraction

from leverstep.free_body.picture_slips import SLIP_WORDS, PictureSlip
from leverstep.marking.marking import Marked

Diagram = tuple[int, str]
"""The number of a task, and the segment whose diagram it is."""


@dataclass(frozen=True, slots=True)
class DiagramFigures:
    """One diagram: by how many students something was drawn, and the share that stood right."""

    task: int
    segment: str
    students: int
    right: Fraction


@dataclass(frozen=True, slots=True)
class DrawnFigures:
    """All diagrams, and the name of each slip with how many students made it, most first."""

    diagrams: tuple[DiagramFigures, ...] = ()
    slips: tuple[tuple[str, int], ...] = ()


class DrawnDiagrams:
    """Collects the diagrams of a class, one sitting after the other."""

    def __init__(self) -> None:
        self._students: Counter[Diagram] = Counter()
        self._right: Counter[Diagram] = Counter()
        self._parts: dict[Diagram, int] = {}
        self._slips: Counter[str] = Counter()

    def add(self, marked: Marked) -> None:
        """Add the diagrams of one student's sitting; what was not begun is left out."""
        made = {slip for placing in marked.placings for slip in placing.slips}
        for one in marked.pictures:
            if not one.is_begun:
                continue
            diagram = (one.task, one.segment)
            self._students[diagram] += 1
            self._right[diagram] += one.right
            self._parts[diagram] = one.parts
            made.update(one.left_out)
        self._slips.update(made)

    def figures(self) -> DrawnFigures:
        """Return the figures of all that was added so far."""
        diagrams = tuple(
            DiagramFigures(*one, count, Fraction(self._right[one], self._parts[one] * count))
            for one, count in sorted(self._students.items())
        )
        by_count = sorted(self._slips.items(), key=lambda pair: (-pair[1], pair[0]))
        slips = tuple((SLIP_WORDS[PictureSlip(slip)].name, count) for slip, count in by_count)
        return DrawnFigures(diagrams, slips)
