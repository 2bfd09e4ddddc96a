"""Where a scene goes on a grid: its scale, its arrows' length, and the room for its distances.

One unit is the width of a cell; a cell is two units high, so that angles look right.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

from leverstep.diagram.canvas import cell
from leverstep.diagram.scene import Arrow, Scene, toward


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
    stations = {arrow.station for arrow in scene.arrows if arrow.station is not None} | {0.0}
    knots = {0.0: 0.0}
    for side in (1, -1):
        outward = sorted(abs(s) for s in stations if s * side >= 0)
        for near, far in pairwise(outward):
            drawn = abs(knots[near * side]) + max((far - near) * scale, least)
            knots[far * side] = drawn * side
    return Ruler(tuple(sorted(knots.items())), scale)


@dataclass(frozen=True, slots=True)
class Sketch:
    """A scene at one scale, in units around the axis.

    `length` is that of an arrow; `arm` the symbol of the force whose moment arm is to be shown.
    """

    scene: Scene
    ruler: Ruler
    length: float
    arm: str

    def along(self, station: float) -> complex:
        """Return the place of a station."""
        return self.ruler(station) * toward(self.scene.bearing)

    def tail(self, arrow: Arrow) -> complex:
        """Return the place where a force acts; beside the segment for one that runs along it."""
        if arrow.station is None:
            return arrow.at * self.ruler.scale
        aside = 2j * arrow.direction if self.scene.runs_along(arrow) else 0j
        return self.along(arrow.station) + aside

    def head(self, arrow: Arrow) -> complex:
        """Return the place of an arrow's head; one that hugs the segment is drawn longer."""
        across = abs(toward(arrow.bearing - self.scene.bearing).imag)
        longer = 1.0 if self.scene.runs_along(arrow) else 0.4 / min(max(across, 0.25), 0.4)
        return self.tail(arrow) + self.length * longer * arrow.direction

    def foot(self, arrow: Arrow) -> complex:
        """Return the foot of the perpendicular from the axis to the line of action."""
        tail = self.tail(arrow)
        return tail - arrow.direction * (tail * arrow.direction.conjugate()).real

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
            yield to_cells(self.tail(arrow))
            if arrow.symbol == self.arm:
                yield to_cells(self.foot(arrow))
            head = to_cells(self.head(arrow))
            label = len(arrow.symbol) + 3  # a space, and the mark of the one in focus
            yield from (head - label, head + label)


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
        down, across = zip(*map(cell, places), strict=True)
        return cls(min(across), max(across), min(down), max(down))

    @property
    def width(self) -> int:
        """Return the number of columns."""
        return self.right - self.left + 1

    @property
    def height(self) -> int:
        """Return the number of rows."""
        return self.bottom - self.top + 1

    def fits(self, room: Box) -> bool:
        """Return whether it has no more columns and rows than a room."""
        return self.width <= room.width and self.height <= room.height


def to_cells(place: complex) -> complex:
    """Return a place in units (y up) as cells from the axis (rows down)."""
    return complex(place.real, -place.imag / 2)


def fit(scene: Scene, arm: str, width: int, height: int, longest: int) -> Sketch:
    """Return the largest sketch that fits; `longest` is the most units for the segment.

    Where nothing fits, the smallest is returned.
    """
    rows = (height - 1) // 2 if scene.level else height // 4
    rows = max(2, min(5, rows))
    tries = ((rows, 3.0), (2, 3.0), (2, 2.0), (2, 1.0), (1, 1.0))
    for upright, least in tries:
        start = Sketch(scene, ruler(scene, 0.0, least), 2.0 * upright, arm)
        sketch = _largest(start, least, Box(1, width, 1, height), longest)
        if sketch is not None:
            return sketch
    return start


def _largest(start: Sketch, least: float, room: Box, longest: int) -> Sketch | None:
    """Return the largest sketch like `start` that fits, by halving; None where none does."""
    best = None
    low, high = 0.0, 2 * room.width / max(start.scene.reach + start.scene.behind, 0.01)
    for _ in range(14):
        middle = (low + high) / 2
        sketch = replace(start, ruler=ruler(start.scene, middle, least))
        if sum(sketch.sides) <= longest and sketch.box().fits(room):
            best, low = sketch, middle
        else:
            high = middle
    return best


@dataclass(frozen=True, slots=True)
class Plan:
    """A sketch in its place on the grid, and the room for distances and angles.

    `axis` is the cell of the axis. `room` is where the labels of the sketch may stand. `panel` is
    where distances stand and, in its last `facts` rows, angles; `origin` is the column of the axis
    in it. `kind` says where the panel lies and whether its distances are drawn or only listed.
    """

    kind: Literal["below", "beside", "listed"]
    sketch: Sketch
    axis: complex
    room: Box
    panel: Box
    facts: int
    origin: int

    @property
    def measured(self) -> int:
        """Return how many rows there are for distances."""
        return self.panel.height - self.facts - (self.kind != "below")

    def place(self, units: complex) -> complex:
        """Return the cell of a place in units around the axis."""
        return self.axis + to_cells(units)


def plan(scene: Scene, arm: str, width: int, height: int) -> Plan:
    """Return the plan with the largest sketch.

    Distances are only listed where that gains much, or where there is no room to draw them all.
    `arm` is the symbol of the force whose moment arm is to be shown, "" for none.
    """
    best = _below(scene, arm, width, height)
    if scene.level:
        return best
    for listed in (False, True):
        other = _beside(scene, arm, width, height, listed)
        crowded = best.measured < len(scene.measures)
        gain = 1.0 if not listed else 1.2 if crowded else 2.0
        if other is not None and other.sketch.size > gain * best.sketch.size:
            best = other
    return best


def flow(texts: list[str], width: int) -> list[str]:
    """Return some texts, as many to a row as fit."""
    rows: list[str] = []
    for text in texts:
        if rows and len(rows[-1]) + 3 + len(text) <= width:
            rows[-1] += "   " + text
        else:
            rows.append(text)
    return rows


def _below(scene: Scene, arm: str, width: int, height: int) -> Plan:
    """Return the plan with the distances below the sketch, under a level segment in their place."""
    spare = height - (5 if scene.level else max(6, height * 6 // 10))
    facts = min(len(flow([corner.text for corner in scene.corners], width)), spare)
    measures = min(len(scene.measures), spare - facts)
    sketch = fit(scene, arm, width - 2, height - facts - measures, width - 2)
    box = sketch.box()
    used = min(box.height + 2, height - facts - measures)
    top = (height - used - measures - facts) // 2
    room = Box(0, width - 1, top, top + used - 1)
    axis = _centred(box, room)
    panel = Box(0, width - 1, top + used, top + used + measures + facts - 1)
    left, right = sketch.sides
    origin = round(min(max(axis.real, left), width - 1 - right))
    return Plan("below", sketch, axis, room, panel, facts, origin)


def _beside(scene: Scene, arm: str, width: int, height: int, listed: bool) -> Plan | None:
    """Return the plan with the distances on the right; None where that leaves too little room."""
    longest = max(len(measure.text) for measure in scene.measures)
    facts = 0 if listed else len(scene.corners)
    across = longest
    if not listed:
        angles = [len(corner.text) for corner in scene.corners]
        across = max(2 * longest + 8, *angles, int(width * 0.4))
    rows = 1 + len(scene.measures) + facts
    if width - across - 2 < 24 or rows > height:
        return None
    sketch = fit(scene, arm, width - across - 2, height, width if listed else across - 1)
    room = Box(0, width - across - 3, 0, height - 1)
    top = (height - rows) // 2
    panel = Box(width - across, width - 1, top, top + rows - 1)
    left, right = (math.ceil(side) for side in sketch.sides)
    origin = panel.right - 1 - right if scene.leftward else panel.left + left
    kind: Literal["beside", "listed"] = "listed" if listed else "beside"
    return Plan(kind, sketch, _centred(sketch.box(), room), room, panel, facts, origin)


def _centred(box: Box, room: Box) -> complex:
    """Return the cell of the axis that puts a sketch in the middle of a room."""
    left = room.left + (room.width - box.width) // 2
    top = room.top + (room.height - box.height) // 2
    return complex(left - box.left, top - box.top)
