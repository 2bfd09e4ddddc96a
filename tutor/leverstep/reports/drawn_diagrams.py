"""The free-body diagrams of a class: how much of each was right, and which slips were made."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from leverstep.marking.marking import LinePlace, Marked
from leverstep.reports.counts_data import counts_as_data, pairs_of, place, whole, word
from leverstep.reports.measures import stands_out, weight
from leverstep.slips.catalogue import Catalogue
from leverstep.slips.picture_slips import PictureSlip, SlipWords

Diagram = LinePlace
"""A diagram is a place whose step is the segment that it shows."""


@dataclass(frozen=True, slots=True)
class DiagramFigures:
    """One diagram: by how many students something was drawn, and the share that stood right."""

    task: int
    segment: str
    students: int
    right: Fraction


@dataclass(frozen=True, slots=True)
class DrawnSlipFigures:
    """One slip in diagrams, and how many students made it; the rest as of slips on lines.

    `facility` is the share of those who drew the diagram `most_on` and made no slip in it.
    """

    words: SlipWords
    students: int
    most_on: tuple[int, str] | None
    facility: Fraction | None
    weight: Fraction

    @property
    def name(self) -> str:
        """Return the name of the slip."""
        return self.words.name

    @property
    def reason(self) -> str:
        """Return the rule that it breaks, of whatever segment."""
        return self.words.reason_anywhere


@dataclass(frozen=True, slots=True)
class DrawnFigures:
    """All diagrams, and each slip that was made in them, that of most students first."""

    diagrams: tuple[DiagramFigures, ...] = ()
    slips: tuple[DrawnSlipFigures, ...] = ()


class DrawnDiagrams:
    """Collects the diagrams of a class, one sitting after the other."""

    def __init__(self, catalogue: Catalogue) -> None:
        """Begin with none; `catalogue` has the words of slips."""
        self._words = catalogue.diagram_slips
        self._students: Counter[Diagram] = Counter()
        self._right: Counter[Diagram] = Counter()
        self._clean: Counter[Diagram] = Counter()
        self._parts: dict[Diagram, int] = {}
        self._names: dict[Diagram, str] = {}
        self._made: Counter[PictureSlip] = Counter()
        self._on: defaultdict[PictureSlip, Counter[Diagram]] = defaultdict(Counter)

    def add(self, marked: Marked) -> None:
        """Add the diagrams of one student's sitting; what was not begun is left out."""
        made: set[PictureSlip] = set()
        for one in marked.pictures:
            if not one.is_begun:
                continue
            diagram = Diagram(one.task, one.segment, one.problem)
            self._students[diagram] += 1
            self._right[diagram] += one.right
            self._clean[diagram] += not one.slips
            self._parts[diagram] = one.parts
            self._names[diagram] = one.name
            made.update(one.slips)
            for slip in one.slips:
                self._on[slip][diagram] += 1
        self._made.update(made)

    def as_data(self) -> dict[str, object]:
        """Return what was collected as data, with no id and no name."""
        return {
            "students": counts_as_data(self._students), "right": counts_as_data(self._right),
            "clean": counts_as_data(self._clean), "parts": counts_as_data(Counter(self._parts)),
            "names": [[[*one], name] for one, name in sorted(self._names.items())],
            "made": counts_as_data(self._made),
            "on": [[str(slip), counts_as_data(on)] for slip, on in sorted(self._on.items())],
        }  # fmt: skip

    def add_data(self, data: Mapping[str, Any]) -> None:
        """Add what was collected of another part of the class.

        Raises:
            ValueError, KeyError, TypeError: where it is none.
        """
        of = (self._students, "students"), (self._right, "right"), (self._clean, "clean")
        for counts, key in of:
            for one, count in pairs_of(data[key]):
                counts[place(one)] += whole(count)
        self._parts |= {place(one): whole(count) for one, count in pairs_of(data["parts"])}
        self._names |= {place(one): word(name) for one, name in pairs_of(data["names"])}
        for slip, count in pairs_of(data["made"]):
            self._made[PictureSlip(slip)] += whole(count)
        for slip, on in pairs_of(data["on"]):
            for one, count in pairs_of(on):
                self._on[PictureSlip(slip)][place(one)] += whole(count)

    def figures(self) -> DrawnFigures:
        """Return the figures of all that was added so far."""
        diagrams = tuple(
            DiagramFigures(
                one.task, one.step, count, Fraction(self._right[one], self._parts[one] * count)
            )
            for one, count in sorted(self._students.items())
        )
        slips = sorted(self._slips(), key=lambda one: (-one.students, one.words.id))
        return DrawnFigures(diagrams, tuple(slips))

    def _slips(self) -> Iterator[DrawnSlipFigures]:
        clean: dict[Diagram, Fraction | None] = {
            one: Fraction(self._clean[one], count) for one, count in self._students.items()
        }
        for slip, count in self._made.items():
            on = self._on[slip]
            most = stands_out(on, on, count)
            yield DrawnSlipFigures(
                self._words[slip], count,
                None if most is None else (most[0], self._names[most]),
                None if most is None else clean[most],
                weight(on, clean),
            )  # fmt: skip
