"""How far a point or part of a body lies from where its segment starts: along, across and up."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from leverstep.statics.body_points import place_of_part, place_of_point
from leverstep.statics.points import Numbers
from leverstep.statics.posture import Posture


@dataclass(frozen=True, slots=True)
class BodyRun:
    """The way from where a segment starts to its end, or to the centre of mass of the part.

    `about` are the symbols of the force of that part, `start` is "" at the axis.
    """

    to: str
    start: str
    about: tuple[str, ...] = ()

    def key(self, axis: str = "") -> str:
        """Return the key of its length, or of how far it goes along an axis, "x" or "y"."""
        return f"from {self.start or 'axis'} to {self.to}{' along ' if axis else ''}{axis}"

    @property
    def axes(self) -> tuple[str, ...]:
        """Return the axes along which it is no coordinate, for which there may be a line."""
        return ("x", "y") if self.start else ()


def body_runs(posture: Posture) -> Iterator[BodyRun]:
    """Yield the ways to the points of a body, along its segments and to the centres of mass of its
    parts, none where a posture has no such.
    """
    ways = {(point.start, point.name) for point in posture.body_points}
    yield from (BodyRun(point.name, point.start) for point in posture.body_points)
    for force in posture.forces:
        way = force.between
        if way is not None:
            yield BodyRun(force.symbol, way.start, (force.symbol,))
            if (way.start, way.end) not in ways:
                ways.add((way.start, way.end))
                yield BodyRun(way.end, way.start)


def lengths_of_runs(posture: Posture, numbers: Numbers) -> dict[str, float]:
    """Return how long each way is, and how far it goes across and up, in metres, by key."""
    found: dict[str, float] = {}
    for run in body_runs(posture):
        if run.about:
            end = place_of_part(posture, posture.force(run.to), numbers)
        else:
            end = place_of_point(posture, run.to, numbers)
        way = end - place_of_point(posture, run.start, numbers)
        found |= {run.key(): abs(way), run.key("x"): abs(way.real), run.key("y"): abs(way.imag)}
    return found
