"""Where a scene goes on a grid: its scale, its arrows' length, and the room for its distances."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import Literal

from leverstep.diagram.scene import Scene
from leverstep.diagram.sketch import ANY, Box, Most, Sketch, ruler, shares, to_cells


def fit(scene: Scene, arm: str, width: int, height: int, longest: int, at_most: Most) -> Sketch:
    """Return the largest sketch that fits; `longest` is the most units for the segment.

    Where nothing fits, the smallest is returned.
    """
    rows = (height - 1) // 2 if scene.level else height // 4
    rows = max(2, min(5, rows))
    tries = ((rows, 3.0), (2, 3.0), (2, 2.0), (2, 1.0), (1, 1.0))
    room = Box(1, width, 1, height)
    for upright, least in tries:
        length = min(2.0 * upright, at_most.length)
        start = Sketch(scene, ruler(scene, 0.0, least), length, arm, shares(scene, length))
        most = longest / max(scene.reach + scene.behind, 0.01)
        scales = (at_most.scale, at_most.scale) if at_most.is_set else (0.0, most)
        sketch = _largest(start, least, room, longest, scales)
        if sketch is not None:
            return _with_more(sketch, least, room, longest, at_most)
    return start


MORE = (
    (math.inf, 10.0), (math.inf, 5.0), (20.0, 10.0), (14.0, 10.0), (14.0, 5.0), (10.0, 10.0),
    (6.0, 10.0),
)  # fmt: skip
"""How much of what is shown besides is seen, and how long arrows are at most: the first for which
there is room is taken."""

SMALLER, SMALLEST, ENOUGH = 0.7, 0.4, 30.0
"""The share of its largest scale that a sketch may have, so that more is seen; the least share
where the segment is long on the grid, and the units of a segment that is long enough."""


def _mores(scene: Scene) -> Iterator[tuple[bool, bool, tuple[float, float]]]:
    """Yield what more may be seen: far ends, distances along the segment, what is shown besides.

    The far ends of muscles are the last to be given up, and the first are those distances.
    """
    barred = (True, False) if scene.barred else (False,)
    for far in (True, False) if scene.far_ends else (False,):
        if scene.beneath:
            yield from product((far,), barred, MORE)
        yield from ((far, bars, (0.0, 10.0)) for bars in barred if far or bars)


def _with_more(sketch: Sketch, least: float, room: Box, longest: int, at_most: Most) -> Sketch:
    """Return a sketch in which more is to be seen, where that makes it but little smaller.

    One that is to be like others becomes no smaller by it.
    """
    scene, scale = sketch.scene, sketch.ruler.scale
    low = scale * min(SMALLER, max(SMALLEST, ENOUGH / max(sum(sketch.sides), 1.0)))
    low = scale if at_most.is_set else low
    smallest = ruler(scene, low, least)
    if sketch.ruler.to_scale and not smallest.to_scale:
        return sketch
    for far, bars, (keep, length) in _mores(scene):
        more = replace(sketch, ruler=smallest, keep=keep, far=far, bars=bars)
        if length < sketch.length and not at_most.is_set:
            more = replace(more, length=length, shares=shares(scene, length))
        if more.shows_far and _fits(more, room, longest):
            return _largest(more, least, room, longest, (low, scale), 4) or more
    return sketch


def _fits(sketch: Sketch, room: Box, longest: int) -> bool:
    if sum(sketch.sides) > longest:
        return False
    box = sketch.box()
    return box.width <= room.width and box.height <= room.height


def _largest(
    start: Sketch,
    least: float,
    room: Box,
    longest: int,
    scales: tuple[float, float],
    halvings: int = 9,
) -> Sketch | None:
    """Return the largest sketch like `start` that fits, by halving; None where none does."""
    best = None
    low, high = scales
    for _ in range(halvings):
        middle = (low + high) / 2
        sketch = replace(start, ruler=ruler(start.scene, middle, least))
        if _fits(sketch, room, longest):
            best, low = sketch, middle
        else:
            high = middle
    return best


@dataclass(frozen=True, slots=True)
class Plan:
    """A sketch in its place on the grid, and the room for distances and angles.

    `axis` is the cell of the axis. `room` is where the labels of the sketch may stand. `panel` is
    where distances and angles stand; `origin` is the column of the axis in it. `kind` says what it
    is: dimension lines, each in its place under a level segment, with angles in the last `facts`
    rows; or a list, below the sketch or on its right.
    """

    kind: Literal["ruled", "below", "beside"]
    sketch: Sketch
    axis: complex
    room: Box
    panel: Box
    facts: int
    origin: int

    @property
    def measured(self) -> int:
        """Return how many rows there are for distances that are drawn."""
        return self.panel.height - self.facts

    def place(self, units: complex) -> complex:
        """Return the cell of a place in units around the axis."""
        return self.axis + to_cells(units)


def plan_alike(scenes: Sequence[Scene], arm: str, width: int, height: int) -> Plan:
    """Return the plan of the first of some scenes that are compared: all have one scale.

    `arm` is the symbol of the force whose moment arm is to be shown in the first, "" for none.
    """
    first = plan(scenes[0], arm, width, height)
    if len(scenes) == 1:
        return first
    sketches = [first.sketch, *(plan(one, "", width, height).sketch for one in scenes[1:])]
    scale, length = min(s.ruler.scale for s in sketches), min(s.length for s in sketches)
    return plan(scenes[0], arm, width, height, Most(scale, length))


def plan(scene: Scene, arm: str, width: int, height: int, at_most: Most = ANY) -> Plan:
    """Return the plan with the largest sketch, and with the far ends of muscles where one has.

    Distances are listed beside the sketch where that gains much. `arm` is the symbol of the force
    whose moment arm is to be shown, "" for none; `at_most` is its scale, where one is set.
    """
    best = _below(scene, arm, width, height, at_most, ruled=scene.level)
    if not scene.measures or (scene.level and (best.sketch.far or not scene.far_ends)):
        return best
    others = [_below(scene, arm, width, height, at_most, ruled=False)] if scene.level else []
    beside = _beside(scene, arm, width, height, at_most)
    for other in (*others, *([] if beside is None else [beside])):
        larger = other.sketch.size > 1.2 * best.sketch.size
        more, had = ((one.sketch.far, one.sketch.bars) for one in (other, best))
        if more > had or (more == had and larger):
            best = other
    return best


def listed(scene: Scene) -> list[str]:
    """Return what is listed below a sketch: distances along the segment, angles, moment arms."""
    heading = [f"along the {scene.segment}:"] if scene.measures else []
    distances = [measure.text for measure in scene.measures]
    return [*heading, *distances, *scene.facts]


def flow(texts: Sequence[str], width: int) -> list[list[tuple[int, str]]]:
    """Return some texts, as many to a row as fit, each with its first column."""
    rows: list[list[tuple[int, str]]] = []
    end = width
    for text in texts:
        if not rows or end + 3 + len(text) > width:
            rows.append([(0, text)])
            end = len(text)
        else:
            rows[-1].append((end + 3, text))
            end += 3 + len(text)
    return rows


def _below(scene: Scene, arm: str, width: int, height: int, at_most: Most, *, ruled: bool) -> Plan:
    """Return the plan with the distances below the sketch: `ruled`, or else listed."""
    spare = height - (5 if scene.level else max(6, height * 6 // 10))
    facts = min(len(flow(scene.facts, width)), spare) if ruled else 0
    wanted = len(scene.measures if ruled else flow(listed(scene), width - 2))
    measures = min(wanted, spare - facts)
    sketch = fit(scene, arm, width - 2, height - facts - measures, width - 2, at_most)
    box = sketch.box()
    used = height - facts - measures
    if not scene.beneath:
        used = min(box.height + 2, used)
    top = (height - used - measures - facts) // 2
    room = Box(0, width - 1, top, top + used - 1)
    axis = _centred(box, room)
    panel = Box(0, width - 1, top + used, top + used + measures + facts - 1)
    left, right = sketch.sides
    origin = round(min(max(axis.real, left), width - 1 - right))
    kind: Literal["ruled", "below"] = "ruled" if ruled else "below"
    return Plan(kind, sketch, axis, room, panel, facts, origin)


def _beside(scene: Scene, arm: str, width: int, height: int, at_most: Most) -> Plan | None:
    """Return the plan with the distances on the right; None where that leaves too little room."""
    across = max(len(measure.text) for measure in scene.measures)
    rows = 1 + len(scene.measures)
    if width - across - 2 < 24 or rows > height:
        return None
    sketch = fit(scene, arm, width - across - 2, height, width, at_most)
    room = Box(0, width - across - 3, 0, height - 1)
    top = (height - rows) // 2
    panel = Box(width - across, width - 1, top, top + rows - 1)
    return Plan("beside", sketch, _centred(sketch.box(), room), room, panel, 0, panel.left)


def _centred(box: Box, room: Box) -> complex:
    """Return the cell of the axis that puts a sketch in the middle of a room."""
    left = room.left + (room.width - box.width) // 2
    top = room.top + (room.height - box.height) // 2
    return complex(left - box.left, top - box.top)
