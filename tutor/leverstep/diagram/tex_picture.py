r"""A picture for LaTeX: the strokes of the layout in a `picture` environment.

It needs the package `color` and is drawn finer with `pict2e`, where there is that. A unit is as
wide as a pixel of the pen for SVG; a character of the size `\footnotesize` is as wide as a cell.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from leverstep.diagram.canvas import (
    Arc,
    ArrowHead,
    Label,
    Outline,
    Point,
    StraightLine,
    Stroke,
    Surface,
)
from leverstep.diagram.tex_text import tex_text

UNIT = 0.531
"""A unit in points: a character of `cmtt8` is 4.25 points wide, and a cell 8 units."""

_ACROSS, _DOWN, _MARGIN = 8.0, 16.0, 8.0
_PIECE = 60.0
"""Units of the longest piece of a slanting line: LaTeX alone draws each as so many dots."""

_GREY = {"segment": 0.5, "dimension": 0.4, "plain": 0.3}
"""The grey of a style; all others are black."""
_WIDTH = {"heavy": 2.6, "thin": 0.8, "dotted": 0.5}
_STRONG = {"effort": 1.3, "reaction": 1.3, "focus": 1.3, "dimension": 0.5}
"""Widths of lines in points; the second is of thin lines of some styles."""


_LIMB, _EDGE, _SHOWN = 11.0, 1.0, 0.65
"""The width of an outline and of its edge, in units, and the grey of what is only shown."""
_HATCH, _APART = 6.0, 8.0
"""How long the hatches of a surface are and how far apart, in units."""


def tex_picture(
    width: int, rows: range, strokes: Iterable[Stroke], labels: Iterable[Label]
) -> Iterator[str]:
    """Yield a drawing as lines of LaTeX.

    Args:
        width: columns of the grid that it was laid out on.
        rows: those of that grid that are shown.
        strokes: its lines, arcs, arrow heads and points, in cells.
        labels: its texts.
    """
    across, down = width * _ACROSS + 2 * _MARGIN, len(rows) * _DOWN + 2 * _MARGIN
    bottom = -rows.stop * _DOWN - _MARGIN
    yield rf"{{\setlength{{\unitlength}}{{{UNIT}pt}}\setlength{{\fboxsep}}{{0.4pt}}%"
    yield rf"\begin{{picture}}({across:g},{down:g})({-_MARGIN:g},{bottom:g})"
    drawn = tuple(strokes)
    yield from _outlines([stroke for stroke in drawn if isinstance(stroke, Outline)])
    for stroke in drawn:
        yield from _stroke(stroke)
    yield r"\footnotesize\ttfamily\color[gray]{0}"
    yield from (_text(label) for label in labels)
    yield r"\end{picture}}"


def _stroke(stroke: Stroke) -> Iterator[str]:
    if not isinstance(stroke, Outline | Surface):
        yield rf"\color[gray]{{{_GREY.get(stroke.style, 0.0):g}}}"
    match stroke:
        case StraightLine():
            yield from _line(stroke)
        case Arc():
            yield from _arc(stroke)
        case ArrowHead():
            yield from _head(stroke)
        case Point():
            yield from _point(stroke)
        case Surface():
            yield from _surface(stroke)


def _outlines(outlines: list[Outline]) -> Iterator[str]:
    """Yield all edges first, so that parts which hang together have one edge."""
    for width, grey in ((_LIMB, _SHOWN), (_LIMB - 2 * _EDGE, 1.0)):
        yield rf"\color[gray]{{{grey:g}}}\linethickness{{{width * UNIT:.2f}pt}}"
        for one in outlines:
            yield from _straight(_at(one.start), _at(one.end))
            for end in (one.start,) if one.cut else (one.start, one.end):
                yield rf"\put{_pair(_at(end))}{{\circle*{{{width:g}}}}}"


def _surface(surface: Surface) -> Iterator[str]:
    """Yield a line with slanting hatches on one side."""
    start, end = _at(surface.start), _at(surface.end)
    run, side = end - start, complex(surface.side.real * _ACROSS, -surface.side.imag * _DOWN)
    along = run / abs(run)
    hatch = _HATCH * (side / abs(side) - along)
    yield rf"\color[gray]{{{_SHOWN:g}}}\linethickness{{0.6pt}}"
    yield from _straight(start, end)
    for number in range(1, int(abs(run) / _APART) + 1):
        foot = start + along * number * _APART
        yield _curve(foot, foot + hatch / 2, foot + hatch)


def _at(place: complex) -> complex:
    """Return a place in cells as one in units, where up is positive."""
    return complex((place.real + 0.5) * _ACROSS, -(place.imag + 0.5) * _DOWN)


def _pair(place: complex) -> str:
    return f"({place.real:.2f},{place.imag:.2f})"


def _line(line: StraightLine) -> Iterator[str]:
    width = _WIDTH[line.weight]
    if line.weight == "thin":
        width = _STRONG.get(line.style, width)
    elif line.weight == "heavy" and line.style != "segment":
        width = 1.8
    yield rf"\linethickness{{{width:g}pt}}"
    start, end = _at(line.start), _at(line.end)
    yield from _dashes(start, end) if line.weight == "dotted" else _straight(start, end)


def _straight(start: complex, end: complex) -> Iterator[str]:
    """Yield a line as pieces, each a curve that does not bend; level and upright ones as one."""
    run = end - start
    if abs(run) < 0.01:
        return
    if min(abs(run.real), abs(run.imag)) < 0.01:
        way = complex(*(round(part / abs(run)) for part in (run.real, run.imag)))
        yield rf"\put{_pair(start)}{{\line({way.real:g},{way.imag:g}){{{abs(run):.2f}}}}}"
        return
    count = math.ceil(abs(run) / _PIECE)
    for number in range(count):
        first, last = (start + run * n / count for n in (number, number + 1))
        yield _curve(first, (first + last) / 2, last)


def _dashes(start: complex, end: complex) -> Iterator[str]:
    """Yield a line of short dashes."""
    run = end - start
    count = max(1, round(abs(run) / 6))
    for number in range(count):
        yield from _straight(start + run * number / count, start + run * (number + 0.4) / count)


def _curve(start: complex, toward: complex, end: complex) -> str:
    return rf"\qbezier{_pair(start)}{_pair(toward)}{_pair(end)}"


def _arc(arc: Arc) -> Iterator[str]:
    """Yield part of a circle as curves of at most 45 degrees."""
    yield r"\linethickness{0.5pt}"
    count = max(1, math.ceil(abs(arc.turned) / 45))
    centre = _at(arc.centre)
    # Two tangents meet where the circle is farther out by the cosine of half the angle.
    beyond = 1 / math.cos(math.radians(arc.turned / count / 2))
    for number in range(count):
        start, middle, end = (_at(arc.at((number + n) / count)) for n in (0, 0.5, 1))
        yield _curve(start, centre + (middle - centre) * beyond, end)


def _head(head: ArrowHead) -> Iterator[str]:
    """Yield an arrow head as a fan of lines, its tip a little past the place."""
    angle = math.radians(head.bearing)
    along = complex(math.cos(angle), math.sin(angle))
    tip, back = _at(head.tip) + 4 * along, _at(head.tip) - 8 * along
    yield r"\linethickness{0.8pt}"
    for number in range(-4, 5):
        foot = back + number * 1j * along
        yield _curve(tip, (tip + foot) / 2, foot)


def _point(point: Point) -> Iterator[str]:
    place = _at(point.place)
    if point.shape == "tick":
        yield r"\linethickness{0.5pt}"
        yield from _straight(place - 5j, place + 5j)
        return
    if point.shape == "end":
        yield rf"\put{_pair(place)}{{\color[gray]{{1}}\circle*{{6}}}}"
        yield rf"\linethickness{{0.8pt}}\put{_pair(place)}{{\circle{{6}}}}"
        return
    yield rf"\put{_pair(place)}{{\circle*{{{10 if point.shape == 'axis' else 5}}}}}"


def _text(label: Label) -> str:
    """Return a label on white, in the middle of its cells."""
    x = (label.column + len(label.text) / 2) * _ACROSS
    y = -(label.row + 0.5) * _DOWN
    written = rf"\colorbox[gray]{{1}}{{{tex_text(label.text)}}}"
    return rf"\put({x:g},{y:g}){{\makebox(0,0){{{written}}}}}"
