"""Records too alike: numbers that one student typed, and that are right for another's numbers.

Each student of a drill has numbers of their own, so a number that is right for one is seldom met by
another by accident. A line counts as alike where the very same number was typed by both, right for
the one and wrong for the other, and no slip explains it. Words, symbols and numbers of fewer than
three figures are alike by nature and do not count; nor do workings with the same numbers for all,
or of several problems of a bank.
tests/benchmarks/alike.py measures how often this errs.
"""

from __future__ import annotations

import hashlib
import re
from array import array
from collections.abc import Collection, Iterator
from dataclasses import dataclass

from leverstep.marking.marking import Entry, LinePlace
from leverstep.statics.kinds import KINDS
from leverstep.working.verdict import Outcome

FIGURES = 3
"""Figures that a number needs to count; zeros at either end are none."""

LEAST = 3
"""Lines that must be alike before a pair is named."""


@dataclass(frozen=True, slots=True)
class Alike:
    """Two students by their numbers: the lines right for the first and typed by the second."""

    right: int
    wrong: int
    places: tuple[LinePlace, ...]


class Likeness:
    """What was typed in a drill, held as digests: twelve bytes for each right line."""

    def __init__(self) -> None:
        self._right = array("Q")
        self._whose = array("I")
        self._wrong: dict[int, list[tuple[int, LinePlace]]] = {}

    def add(self, student: int, entries: Collection[Entry], tasks: Collection[int]) -> None:
        """Add what a student typed.

        Args:
            student: the student's number, each once.
            entries: all entries of the sitting that counts.
            tasks: the numbers of the tasks in which students have numbers of their own.
        """
        for entry in entries:
            typed = number_typed(entry.text)
            of_number = entry.kind in KINDS and KINDS[entry.kind].is_number
            if entry.task not in tasks or not of_number or not typed:
                continue
            digest = _digest(entry.place, typed)
            if entry.outcome is Outcome.RIGHT:
                self._right.append(digest)
                self._whose.append(student)
            elif entry.outcome is Outcome.WRONG and not entry.sure:
                self._wrong.setdefault(digest, []).append((student, entry.place))

    def pairs(self) -> Iterator[Alike]:
        """Yield the pairs with enough lines alike, those with most of them first."""
        found: dict[tuple[int, int], set[LinePlace]] = {}
        for digest, right in zip(self._right, self._whose, strict=True):
            for wrong, place in self._wrong.get(digest, ()):
                if wrong != right:
                    found.setdefault((right, wrong), set()).add(place)
        enough = [(pair, places) for pair, places in found.items() if len(places) >= LEAST]
        told: dict[int, list[set[LinePlace]]] = {}
        for (right, wrong), places in sorted(enough, key=lambda one: (-len(one[1]), one[0])):
            # Some of what was copied from one student may be right for a third by accident.
            if not any(places < others for others in told.get(wrong, ())):
                told.setdefault(wrong, []).append(places)
                yield Alike(right, wrong, tuple(sorted(places)))


def number_typed(text: str) -> str:
    """Return a line without its name and its spaces, "" where it has too few figures to count."""
    typed = "".join(text.rpartition("=")[2].casefold().split())
    figures = re.sub(r"\D", "", typed).strip("0")
    return typed if len(figures) >= FIGURES else ""


def _digest(place: LinePlace, typed: str) -> int:
    named = f"{place.task} {place.step} {typed}" + (f" {place.problem}" if place.problem else "")
    data = named.encode(errors="backslashreplace")
    return int.from_bytes(hashlib.blake2b(data, digest_size=8).digest())
