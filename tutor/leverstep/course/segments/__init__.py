"""Tables of body segments, each with its source; a problem names one, and they never mix."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from importlib.resources import files

from leverstep.course.toml import parsed, text_of

_FILES = {
    file.name.removesuffix(".toml"): file
    for file in files("leverstep.course.segments").iterdir()
    if file.name.endswith(".toml")
}
TABLES = tuple(sorted(_FILES))
"""The names of the tables, as a problem file gives them."""


@dataclass(frozen=True, slots=True)
class Segment:
    """One segment: its share of the body's mass, and where its centre of mass lies.

    `centre` is a share of the segment's length, counted from the end that `length` names first.
    """

    mass: Fraction
    centre: Fraction
    length: str


@dataclass(frozen=True)
class SegmentTable:
    """A table of segments by name, and what it is called."""

    name: str
    segments: dict[str, Segment]

    def beside(self, name: str) -> dict[str, Segment]:
        """Return the other segments whose names share a word with this one."""
        words = _words(name)
        return {n: s for n, s in self.segments.items() if n != name and words & _words(n)}


def _words(name: str) -> set[str]:
    return set(name.replace(",", "").split()) - {"and"}


@cache
def segment_table(name: str) -> SegmentTable:
    """Return one of the `TABLES`."""
    table = parsed(text_of(_FILES[name], name), name)
    segments = {
        segment: Segment(row["mass"], Fraction(row["centre"]), row["length"])
        for segment, row in table["segments"].items()
    }
    return SegmentTable(table["name"], segments)
