"""The slips of a class: those that share a reason are one, as in `slips.habits`."""

from __future__ import annotations

import hashlib
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

from leverstep.course.plain_text import cut, plain
from leverstep.marking.marking import Entry, LinePlace, Marked
from leverstep.reports.counts_data import LONGEST, counts_as_data, pairs_of, place, whole, word
from leverstep.reports.figures import ClassSlipFigures, TaughtSlip
from leverstep.reports.measures import stands_out, weight
from leverstep.slips.catalogue import Catalogue
from leverstep.working.verdict import Outcome

TAUGHT = 2
"""So many reasons of slips are named as what to teach next."""


Told = tuple[Entry, tuple[str, ...]]
"""A wrong entry, and the slips for one reason that were found behind it for sure."""


def told_slips(marked: Marked, catalogue: Catalogue) -> dict[str, list[Told]]:
    """Return what was told of the wrong entries of a sitting, by the reason of the slips."""
    found: dict[str, list[Told]] = {}
    for entry in marked.entries:
        if entry.outcome is Outcome.WRONG and entry.sure:
            slips: dict[str, list[str]] = {}
            for slip in entry.slips:
                slips.setdefault(catalogue.slips[slip].reason, []).append(slip)
            for reason, several in slips.items():
                found.setdefault(reason, []).append((entry, tuple(several)))
    return found


def to_teach(slips: Iterable[TaughtSlip]) -> tuple[TaughtSlip, ...]:
    """Return of some slips those to teach next."""
    # A slip of one student alone is no matter for the class.
    of_several = (one for one in slips if one.students > 1)
    return tuple(sorted(of_several, key=lambda one: -one.weight)[:TAUGHT])


@dataclass(slots=True)
class _Made:
    """What is collected for one reason; the example is the one with the least digest.

    `on` counts the students by line, `tries` the entries, `held` those the student was sure of.
    """

    students: int = 0
    held: int = 0
    slips: Counter[str] = field(default_factory=Counter)
    on: Counter[LinePlace] = field(default_factory=Counter)
    tries: Counter[LinePlace] = field(default_factory=Counter)
    example: tuple[str, LinePlace, str] | None = None


class ClassSlips:
    """Collects the slips of a class, one sitting after the other."""

    def __init__(self, catalogue: Catalogue) -> None:
        self._catalogue = catalogue
        self._made: defaultdict[str, _Made] = defaultdict(_Made)

    def add(self, marked: Marked) -> None:
        """Add the slips of one student's sitting."""
        for reason, told in told_slips(marked, self._catalogue).items():
            made = self._made[reason]
            made.students += 1
            made.on.update({entry.place for entry, _ in told})
            for entry, slips in told:
                made.slips.update(slips)
                made.held += entry.is_held
                made.tries[entry.place] += 1
                if not _names_someone(entry.text, marked):
                    typed = cut(plain(entry.text), LONGEST)
                    shown = (_digest(typed), entry.place, typed)
                    made.example = min(shown, made.example or shown)

    def as_data(self) -> dict[str, object]:
        """Return what was collected as data, with no id and no name."""
        return {
            reason: {
                "students": made.students, "held": made.held,
                "slips": counts_as_data(made.slips), "on": counts_as_data(made.on),
                "tries": counts_as_data(made.tries),
                "example": None if made.example is None else [*made.example[1], made.example[2]],
            }
            for reason, made in sorted(self._made.items())
        }  # fmt: skip

    def add_data(self, data: Mapping[str, Any]) -> None:
        """Add what was collected of another part of the class.

        Raises:
            ValueError, KeyError, TypeError, AttributeError: where it is none, or names a slip that
                is not known.
        """
        for reason, found in data.items():
            made = self._made[word(reason)]
            made.students += whole(found["students"])
            made.held += whole(found["held"])
            for slip, count in pairs_of(found["slips"]):
                made.slips[self._catalogue.slips[slip].id] += whole(count)
            for counts, key in ((made.on, "on"), (made.tries, "tries")):
                for one, count in pairs_of(found[key]):
                    counts[place(one)] += whole(count)
            if found["example"] is not None:
                *at, typed = found["example"]
                shown = (_digest(word(typed)), place(at), typed)
                made.example = min(shown, made.example or shown)

    def figures(
        self, names: Mapping[LinePlace, str], facility: Mapping[LinePlace, Fraction | None]
    ) -> tuple[ClassSlipFigures, ...]:
        """Return all slips by the number of students.

        Args:
            names: what each line is called.
            facility: the share that had it right at the first try.
        """
        made = {reason: self._figures(one, names, facility) for reason, one in self._made.items()}
        slips = sorted(made, key=lambda r: (-made[r].students, -made[r].times, r))
        return tuple(made[reason] for reason in slips)

    def _figures(
        self,
        made: _Made,
        names: Mapping[LinePlace, str],
        facility: Mapping[LinePlace, Fraction | None],
    ) -> ClassSlipFigures:
        most = stands_out(made.on, made.tries, made.students)
        _, shown_at, typed = made.example or ("", min(made.on), "")
        by_times = sorted(made.slips, key=lambda slip: (-made.slips[slip], slip))
        return ClassSlipFigures(
            slips=tuple(self._catalogue.slips[slip] for slip in by_times),
            times=made.tries.total(),
            students=made.students,
            most_on=None if most is None else (most[0], names[most]),
            facility=None if most is None else facility.get(most),
            example=(shown_at[0], names[shown_at]),
            typed=typed,
            held=made.held,
            weight=weight(made.on, facility),
        )


def _names_someone(text: str, marked: Marked) -> bool:
    """Return whether a text holds the student's id or a part of the name."""
    words = [marked.student, *plain(marked.name).split()]
    return any(len(word) > 2 and word.casefold() in text.casefold() for word in words)


def _digest(text: str) -> str:
    return hashlib.sha256(text.encode(errors="backslashreplace")).hexdigest()
