"""A scene at one scale: where its stations, arrows and surroundings come to lie, in units.

One unit is the width of a cell; a cell is two units high, so that angles look right.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise

from leverstep.course.forces import AXIS
from leverstep.diagram.canvas import cell
from leverstep.diagram.scene import Arrow, FarEnd, Scene
from leverstep.diagram.surroundings import Surrounding


@dataclass(frozen=True, slots=True)
class Ruler:
    """How far from the axis a station is drawn, in units.

    `knots` pairs stations with where they are drawn; between them and past them lengths are to
    scale, at `scale` units to the metre past the last.
    """

    knots: tuple[tuple[float, float], ...]
    scale: float

    def __call__(self, station: float) -> float:
        """Return the drawn distance of a station from the axis, negative on its far side."""
        for (low, low_drawn), (high, high_drawn) in pairwise(self.knots):
            if low <= station <= high:
                share = (station - low) / (high - low)
                return low_drawn + share * (high_drawn - low_drawn)
        nearest, drawn = self.knots[0 if station < self.knots[0][0] else -1]
        return drawn + (station - nearest) * self.scale

    @property
    def to_scale(self) -> bool:
        """Return whether nothing was moved apart to stay readable."""
        return all(abs(drawn - station * self.scale) < 1 for station, drawn in self.knots)


def ruler(scene: Scene, scale: float, least: float) -> Ruler:
    """Return the ruler of a scene, with at least `least` units between axis and forces."""
    points = [*(arrow.station for arrow in scene.arrows), *(mark.station for mark in scene.marks)]
    stations = {station for station in points if station is not None} | {0.0}
    knots = {0.0: 0.0}
    for side in (1, -1):
        outward = sorted(abs(s) for s in stations if s * side >= 0)
        for near, far in pairwise(outward):
            drawn = abs(knots[near * side]) + max((far - near) * scale, least)
            knots[far * side] = drawn * side
    return Ruler(tuple(sorted(knots.items())), scale)


BAR_OFF, BAR_STEP, PAST = 3.0, 2.4, 1.5
"""Units from the segment to the first distance that is drawn along it, from one to the next, and
from what stands on that side to the first."""

ON_MUSCLE, LEAST_ON_MUSCLE = 0.6, 2.5
"""The share of a muscle's line that an arrow takes, and its fewest units there."""

SHORTEST = 4.0
"""Units of the shortest arrow that is drawn to scale: two rows."""


@dataclass(frozen=True, slots=True)
class Most:
    """What a sketch has in common with others: its units to the metre, at most so long an arrow."""

    scale: float = math.inf
    length: float = math.inf

    @property
    def is_set(self) -> bool:
        """Return whether it is that of other pictures, which this one is to be like."""
        return self.scale < math.inf


ANY = Most()
"""Where there is nothing that a sketch is to be like."""


def shares(scene: Scene, length: float) -> dict[str, float]:
    """Return how long arrows are beside one of this length, by symbol, where they are to scale.

    Those of all known forces are, or else those of all that are given; none where the shortest
    could not be seen. One on the line of its muscle is as long as there is room for. The forces of
    postures that are compared have one scale.
    """
    muscles = {end.of for end in scene.far_ends}
    among = scene.compared or scene.arrows
    known = [arrow for arrow in among if arrow.size and arrow.symbol not in muscles]
    here = {arrow.symbol for arrow in scene.arrows}
    for group in (known, [arrow for arrow in known if not arrow.found]):
        sizes = {arrow.symbol: arrow.size or 0.0 for arrow in group}
        if len(sizes) > 1 and min(sizes.values()) * length >= SHORTEST * max(sizes.values()):
            largest = max(sizes.values())
            return {symbol: size / largest for symbol, size in sizes.items() if symbol in here}
    return {}


@dataclass(frozen=True, slots=True)
class Sketch:
    """A scene at one scale, in units around the axis.

    `length` is that of the longest arrow; `arm` the symbol of the force whose moment arm is to be
    shown. `shares` are the lengths of the arrows that are to scale. `keep` is how much of what is
    shown besides must be seen, in units from where it begins; `far` says that the far ends of
    muscles are to be seen, `bars` that distances are drawn along the segment.
    """

    scene: Scene
    ruler: Ruler
    length: float
    arm: str
    shares: Mapping[str, float]
    keep: float = 0.0
    far: bool = False
    bars: bool = False

    def along(self, station: float) -> complex:
        """Return the place of a station."""
        return self.ruler(station) * self.scene.way

    def acts(self, arrow: Arrow) -> complex:
        """Return the place where a force acts."""
        if arrow.station is None:
            return arrow.at * self.ruler.scale
        return self.along(arrow.station)

    def tail(self, arrow: Arrow) -> complex:
        """Return where an arrow begins: beside the segment for one that runs along it."""
        aside = 2j * arrow.direction if self.scene.runs_along(arrow) else 0j
        return self.acts(arrow) + aside

    def head(self, arrow: Arrow) -> complex:
        """Return the place of an arrow's head."""
        return self.tail(arrow) + self.run(arrow)

    def start(self, arrow: Arrow) -> complex:
        """Return where the line of an arrow begins; of one without a head it runs either way."""
        return self.tail(arrow) - (self.run(arrow) if arrow.headless else 0j)

    def run(self, arrow: Arrow) -> complex:
        """Return how an arrow runs from its tail to its head.

        One that is not to scale is longer close along the segment. It ends well before the far end
        of its muscle, where that is to be seen.
        """
        length = self.length * self.shares.get(arrow.symbol, 1.0)
        close = not (self.scene.at_one_point or self.scene.runs_along(arrow))
        if arrow.symbol not in self.shares and close:
            length *= 0.4 / min(max(self.scene.across[arrow.symbol], 0.25), 0.4)
        if self.far:
            runs = (end.run for end in self.scene.far_ends if end.of == arrow.symbol)
            length = min((length, *(ON_MUSCLE * run * self.ruler.scale for run in runs)))
        return (length / 2 if arrow.headless else length) * arrow.direction

    @property
    def scale(self) -> float:
        """Return the units to the metre, or to the longest arrow where there are no distances."""
        return self.length if self.scene.at_one_point else self.ruler.scale

    @property
    def shows_far(self) -> bool:
        """Return whether arrows have room on the lines of their muscles."""
        return not self.far or all(
            end.run * self.ruler.scale * ON_MUSCLE > LEAST_ON_MUSCLE for end in self.scene.far_ends
        )

    def foot(self, arrow: Arrow) -> complex:
        """Return the foot of the perpendicular from the axis to the line of action."""
        tail = self.tail(arrow)
        return tail - arrow.direction * (tail * arrow.direction.conjugate()).real

    def far_end(self, end: FarEnd) -> complex:
        """Return the place of the far end of a muscle, on its line of action."""
        arrow = self.scene.arrow(end.of)
        return self.acts(arrow) + end.run * self.ruler.scale * arrow.direction

    def shown(self, one: Surrounding) -> tuple[complex, complex]:
        """Return where something shown begins and ends."""
        root = 0j if one.root == AXIS else self.acts(self.scene.arrow(one.root))
        return root + one.start * self.scale, root + one.end * self.scale

    def bar(self, number: int) -> tuple[complex, complex]:
        """Return the two ends of one of the distances that are drawn along the segment."""
        off = (self._bars_off + number * BAR_STEP) * self._aside
        return off, off + self.along(self.scene.measures[number].station)

    @property
    def _aside(self) -> complex:
        """Return the way from the segment to where distances are drawn along it."""
        return self.scene.clear_side * 1j * self.scene.way

    @property
    def _bars_off(self) -> float:
        """Return how far from the segment the first of them lies: past arrows and far ends."""
        places = [self.head(arrow) for arrow in self.scene.arrows]
        if self.far:
            places += [self.far_end(end) for end in self.scene.far_ends]
        heights = [(place * self._aside.conjugate()).real for place in places]
        return max(BAR_OFF, *(height + PAST for height in heights))

    @property
    def ends(self) -> tuple[complex, complex]:
        """Return the two ends of the drawn segment."""
        return self.along(-self.scene.behind), self.along(self.scene.reach)

    @property
    def sides(self) -> tuple[float, float]:
        """Return how far the segment, laid flat, runs to the left and to the right of the axis."""
        behind, ahead = -self.ruler(-self.scene.behind), self.ruler(self.scene.reach)
        return (ahead, behind) if self.scene.leftward else (behind, ahead)

    @property
    def size(self) -> float:
        """Return a measure of how easily segment and arrows can be told apart."""
        return sum(self.sides) * min(self.length, 4.0)

    def box(self) -> Box:
        """Return the cells that the drawing takes up, relative to that of the axis."""
        return Box.around(list(self._corners()))

    def _corners(self) -> Iterator[complex]:
        name = complex(len(self.scene.axis) / 2)
        yield from (to_cells(place) for place in self.ends)
        yield from (-name, name)
        for arrow in self.scene.arrows:
            tail = self.tail(arrow)
            yield to_cells(self.start(arrow))
            if arrow.symbol == self.arm or arrow.symbol in self.scene.by_arm:
                yield to_cells(self.foot(arrow))
            head = to_cells(tail + self.run(arrow))
            # A space, the mark of the one in focus, and that of one still to be found.
            label = len(arrow.symbol) + (3 if arrow.size else 5)
            yield from (head - label, head + label)
        if self.far:
            yield from (to_cells(self.far_end(end)) for end in self.scene.far_ends)
        if self.bars:
            numbers = range(len(self.scene.measures))
            yield from (to_cells(place) for number in numbers for place in self.bar(number))
        if self.keep:
            yield from (-1j, 1j)  # so that the axis has room for its name, if an outline takes one
            yield from (to_cells(place) for place in self._kept())

    def _kept(self) -> Iterator[complex]:
        """Yield the places of what is shown besides, none farther off than is to be seen."""
        for one in self.scene.beneath:
            root = self.shown(one)[0] - one.start * self.scale
            across = (one.half or 0.0) * 1j * one.way
            for offset in (one.start, one.end - across, one.end + across):
                run = offset * self.scale
                yield root + run * min(1.0, self.keep / max(abs(run), 1e-9))


@dataclass(frozen=True, slots=True)
class Box:
    """A block of cells: its first and last column and row."""

    left: int
    right: int
    top: int
    bottom: int

    @classmethod
    def around(cls, places: list[complex]) -> Box:
        """Return the block around some places in cells."""
        across, down = [place.real for place in places], [place.imag for place in places]
        top, left = cell(complex(min(across), min(down)))
        bottom, right = cell(complex(max(across), max(down)))
        return cls(left, right, top, bottom)

    @property
    def width(self) -> int:
        """Return the number of columns."""
        return self.right - self.left + 1

    @property
    def height(self) -> int:
        """Return the number of rows."""
        return self.bottom - self.top + 1


def to_cells(place: complex) -> complex:
    """Return a place in units (y up) as cells from the axis (rows down)."""
    return complex(place.real, -place.imag / 2)
