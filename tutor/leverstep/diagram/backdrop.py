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

WITHIN, NEAR = 0.4999, 0.1
"""Cells from the middle of one to its edge, and within which a line ends where it should."""

LEAST_NAMED = 5.0
"""Units of a line that is long enough to bear a name."""

_ENDLESS = 1000.0
"""Units of a surface without end; it is cut off where the room for the sketch ends."""


def draw_far_ends(canvas: Canvas, plan: Plan, write: Write) -> list[str]:
    """Draw the line of each muscle to its far end; return what is not told beside it."""
    return [
        end.aside for end in plan.sketch.scene.far_ends if not _far_end(canvas, plan, write, end)
    ]


def _far_end(canvas: Canvas, plan: Plan, write: Write, end: FarEnd) -> bool:
    """Draw one, with the distance off the line of the segment; return whether that is told.

    Finer pens draw that as a distance with an end at either side, characters as a dotted line.
    """
    sketch = plan.sketch
    if not sketch.far:
        return False
    place, way = sketch.far_end(end), sketch.scene.way
    foot = way * (place * way.conjugate()).real
    at = plan.place(place)
    canvas.point(at, "◦*", "effort", "end")
    told = write(_around(at, len(end.off)), end.off, "dimension", end.symbol)
    canvas.line(plan.place(sketch.acts(sketch.scene.arrow(end.of))), at, "effort", "dotted")
    if not sketch.scene.fine:
        canvas.line(at, plan.place(foot), "dimension", "dotted")
        return told
    canvas.beneath(at, plan.place(foot), "dimension")
    for tip in (place, foot):
        canvas.beneath(plan.place(tip - way), plan.place(tip + way), "dimension")
    return told


def draw_surroundings(canvas: Canvas, plan: Plan, write: Write) -> list[str]:
    """Draw all that is shown besides: surfaces first, then points, outlines and their names.

    Return the names of those that lie outside the room for the sketch.
    """
    shown = plan.sketch.scene.beneath
    outlines = [one for one in shown if one.kind == "outline"]
    surfaces = [one for one in shown if one.kind == "surface"]
    unseen = [one.name for one in surfaces if not _surface(canvas, plan, write, one)]
    for one in shown:
        if one.end_name and not _point(canvas, plan, write, one) and one.kind == "point":
            unseen.append(one.name)
    unseen += [one.name for one in outlines if not _outline(canvas, plan, one)]
    for one in outlines:
        seen = _seen(plan, one)
        if seen is not None and _units(seen[1] - seen[0]) >= LEAST_NAMED:
            write(_beside(*seen[:2], len(one.name)), one.name, "plain", one.name)
    return unseen


def _surface(canvas: Canvas, plan: Plan, write: Write, one: Surrounding) -> bool:
    """Draw a surface across the way to it, its name in it or beyond; return if there is room."""
    reach = _ENDLESS if one.half is None else one.half * plan.sketch.ruler.scale
    middle = plan.sketch.shown(one)[1]
    start, end = (plan.place(middle + turn * reach * one.way) for turn in (1j, -1j))
    seen = clipped(start, end, plan.room)
    if seen is None:
        return False
    write(_at_surface(*seen, len(one.name), one.half is None), one.name, "plain", one.name)
    canvas.surface(*seen, complex(one.way.real, -one.way.imag / 2))
    return True


def _at_surface(start: complex, end: complex, length: int, endless: bool) -> Iterator[complex]:
    """Yield places for the name of a surface: in one without end, beside, above or below others."""
    low, high = sorted((start, end), key=lambda place: (place.real, place.imag))
    row = cell(high)[0]
    if endless:
        yield from (complex(high.real - length, row), complex(low.real, row))
        return
    yield from (complex(high.real + 2, row), complex(low.real - 1 - length, row))
    centred = (high.real + low.real - length) / 2
    yield from (complex(centred, row + step) for step in (1, -1))


def _seen(plan: Plan, one: Surrounding) -> tuple[complex, complex, bool] | None:
    """Return the ends of what is in the room for the sketch, and whether the second is its own.

    None where nothing is in there.
    """
    start, end = map(plan.place, plan.sketch.shown(one))
    seen = clipped(start, end, plan.room)
    return None if seen is None else (*seen, abs(seen[1] - end) < NEAR)


def _outline(canvas: Canvas, plan: Plan, one: Surrounding) -> bool:
    """Draw an outline as far as there is room for it; return whether there is any."""
    seen = _seen(plan, one)
    if seen is None or abs(seen[1] - seen[0]) < 0.5:
        return False
    start, end, whole = seen
    canvas.outline(start, end, not whole)
    return True


def _point(canvas: Canvas, plan: Plan, write: Write, one: Surrounding) -> bool:
    """Mark where something ends that has a name; return whether there is room."""
    seen = _seen(plan, one)
    if seen is None or not seen[2]:
        return False
    if canvas.free(seen[1]):
        canvas.point(seen[1], "◦*", "plain", "end")
        write(_around(seen[1], len(one.end_name)), one.end_name, "plain", one.end_name)
    return True


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
        (start.real, run.real, room.left - WITHIN, room.right + WITHIN),
        (start.imag, run.imag, room.top - WITHIN, room.bottom + WITHIN),
    ):
        if abs(way) < 1e-9:
            if not low <= place <= high:
                return None
            continue
        near, far = sorted(((low - place) / way, (high - place) / way))
        first, last = max(first, near), min(last, far)
    if first > last:
        return None
    return start + run * first, end if last == 1.0 else start + run * last
