"""What a picture shows besides the forces: drawn where there is room, and beneath all else."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from leverstep.diagram.canvas import Canvas, cell
from leverstep.diagram.plan import Plan
from leverstep.diagram.scene import FarEnd
from leverstep.diagram.sketch import Box
from leverstep.diagram.surroundings import Surrounding

Write = Callable[[Iterable[complex], str, str, str], bool]
"""Writes a text at the first of some places where it fits: places, text, style, what it is of."""

WITHIN = 0.49
"""Cells from the middle of one to its edge, and within it."""

LEAST_NAMED = 5.0
"""Units of a line that is long enough to bear a name."""

_ENDLESS = 1000.0
"""Units of a surface without end; it is cut off where the room for the sketch ends."""


def draw_far_ends(canvas: Canvas, plan: Plan, write: Write) -> list[str]:
    """Draw the line of each muscle to its far end; return what is not told beside it."""
    return [end.aside for end in plan.sketch.scene.far_ends if not _far_end(canvas, plan, write, end)]


def _far_end(canvas: Canvas, plan: Plan, write: Write, end: FarEnd) -> bool:
    """Draw one, with the distance off the line of the segment; return whether that is told."""
    sketch = plan.sketch
    if not sketch.far:
        return False
    place, way = sketch.far_end(end), sketch.scene.way
    foot = way * (place * way.conjugate()).real
    at = plan.place(place)
    canvas.point(at, "◦*", "effort", "end")
    canvas.line(plan.place(sketch.acts(sketch.scene.arrow(end.of))), at, "effort", "dotted")
    canvas.line(at, plan.place(foot), "dimension", "dotted")
    return write(_around(at, len(end.off)), end.off, "dimension", end.symbol)


def draw_surroundings(canvas: Canvas, plan: Plan, write: Write) -> None:
    """Draw all that is shown besides: surfaces first, then outlines and points, then names."""
    shown = plan.sketch.scene.surroundings
    for one in shown:
        if one.kind == "surface":
            _surface(canvas, plan, write, one)
    drawn = [(one, _outline(canvas, plan, one)) for one in shown if one.kind == "outline"]
    for one in shown:
        if one.end_name:
            _point(canvas, plan, write, one)
    for one, ends in drawn:
        if ends is not None and _units(ends[1] - ends[0]) >= LEAST_NAMED:
            write(_beside(*ends, len(one.name)), one.name, "plain", one.name)


def _surface(canvas: Canvas, plan: Plan, write: Write, one: Surrounding) -> None:
    """Draw a surface across the way to it, its name in it or beyond."""
    scale, half = plan.sketch.ruler.scale, one.half
    reach = _ENDLESS if half is None else half * scale
    middle = plan.sketch.shown(one)[1]
    start, end = (plan.place(middle + turn * reach * one.way) for turn in (1j, -1j))
    seen = clipped(start, end, plan.room)
    if seen is None:
        return
    low, high = sorted(seen, key=lambda place: (place.real, place.imag))
    length = len(one.name)
    row = complex(0, cell(high)[0])
    if half is None:
        places = [high.real - length + row, low.real + row]
    else:
        centred = (high.real + low.real - length) / 2
        places = [high.real + 2 + row, low.real - 1 - length + row]
        places += [complex(centred, row.imag + step) for step in (1, -1)]
    write(places, one.name, "plain", one.name)
    canvas.surface(*seen, complex(one.way.real, -one.way.imag / 2))


def _outline(canvas: Canvas, plan: Plan, one: Surrounding) -> tuple[complex, complex] | None:
    """Draw an outline as far as it is in the room for the sketch; return its ends there."""
    start, end = map(plan.place, plan.sketch.shown(one))
    seen = clipped(start, end, plan.room)
    if seen is None or abs(seen[1] - seen[0]) < 0.5:
        return None
    canvas.outline(*seen, seen[1] != end)
    return seen


def _point(canvas: Canvas, plan: Plan, write: Write, one: Surrounding) -> None:
    """Mark where something ends that has a name, if that is in the room for the sketch."""
    at = plan.place(plan.sketch.shown(one)[1])
    if clipped(at, at, plan.room) is None or not canvas.free(at):
        return
    canvas.point(at, "◦*", "plain", "end")
    write(_around(at, len(one.end_name)), one.end_name, "plain", one.end_name)


def _around(place: complex, length: int) -> Iterator[complex]:
    """Yield places for a text at a point: on its right, its left, above it, below it."""
    row, column = cell(place)
    yield complex(column + 2, row)
    yield complex(column - 1 - length, row)
    for step in (-1, 1):
        yield complex(column - length // 2, row + step)
        yield complex(column + 2, row + step)
        yield complex(column - 1 - length, row + step)


def _beside(start: complex, end: complex, length: int) -> Iterator[complex]:
    """Yield places for a text beside a line: half-way first, then nearer to its ends."""
    for share in (0.5, 0.7, 0.85, 0.35):
        row, column = cell(start + (end - start) * share)
        yield from (complex(column + 3, row), complex(column - 2 - length, row))
        yield from (complex(column - length // 2, row + step) for step in (1, -1))


def _units(run: complex) -> float:
    """Return the length of a line in cells in units: a cell is two of them high."""
    return abs(complex(run.real, 2 * run.imag))


def clipped(start: complex, end: complex, room: Box) -> tuple[complex, complex] | None:
    """Return the part of a line that lies within a room; None where it lies outside."""
    first, last = 0.0, 1.0
    run = end - start
    for place, way, low, high in (
        (start.real, run.real, room.left, room.right),
        (start.imag, run.imag, room.top, room.bottom),
    ):
        low, high = low - WITHIN, high + WITHIN
        if abs(way) < 1e-9:
            if not low <= place <= high:
                return None
            continue
        near, far = sorted(((low - place) / way, (high - place) / way))
        first, last = max(first, near), min(last, far)
    if first > last:
        return None
    return start + run * first, end if last == 1.0 else start + run * last
