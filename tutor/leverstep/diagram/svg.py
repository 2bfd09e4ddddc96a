"""A picture as SVG, for paper and web pages: the layout of the characters, with a finer pen.

Lines, arrows and texts stand where the characters would; only black and greys are used, so that
nothing is lost in print.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from html import escape

from leverstep.course.plain_text import plain
from leverstep.diagram.canvas import (
    Arc,
    ArrowHead,
    Curve,
    Label,
    Outline,
    Point,
    StraightLine,
    Stroke,
    Surface,
)

ACROSS, DOWN = 8.0, 16.0
"""The width and the height of a cell, in pixels."""
_MARGIN = 8.0
"""Pixels around the grid, so that what stands at its edge is whole."""

_INK = {"segment": "#777", "dimension": "#666", "plain": "#444"}
"""The colour of a style; all others are black."""
_WIDTH = {"heavy": 5.0, "thin": 1.6, "dotted": 1.0}
_CURVE = {"heavy": 3.0, "thin": 1.6, "dotted": 1.6}
"""The width of a line, and of a curve, in pixels."""
_STRONG = {"effort": 2.6, "reaction": 2.6, "focus": 2.6, "dimension": 1.0}
"""The width of thin lines of some styles."""


_LIMB, _EDGE, _SHOWN = 11.0, 1.0, "#aaa"
"""The width of an outline and of its edge, in pixels, and the colour of what is only shown."""
_HATCH, _APART = 6.0, 8.0
"""How long the hatches of a surface are and how far apart, in pixels."""


def svg(
    width: int, rows: range, strokes: Iterable[Stroke], labels: Iterable[Label], title: str
) -> str:
    """Return a drawing as one `<svg>` element.

    Args:
        width: columns of the grid that it was laid out on.
        rows: those of that grid that are shown.
        strokes: its lines, arcs, arrow heads and points, in cells.
        labels: its texts.
        title: what it shows, for those who can't see it.
    """
    drawn = tuple(strokes)
    across, down = width * ACROSS + 2 * _MARGIN, len(rows) * DOWN + 2 * _MARGIN
    top = rows.start * DOWN - _MARGIN
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" width="{across:g}" height="{down:g}" '
        f'viewBox="{-_MARGIN:g} {top:g} {across:g} {down:g}" '
        'font-family="monospace" font-size="13">',
        f"<title>{escape(plain(title))}</title>",
        *_outlines([stroke for stroke in drawn if isinstance(stroke, Outline)]),
        *_strokes(drawn),
        *(_text(label) for label in labels),
        "</svg>",
    ]
    return "\n".join(parts) + "\n"


def _strokes(strokes: Iterable[Stroke]) -> Iterator[str]:
    for stroke in strokes:
        match stroke:
            case StraightLine():
                yield _line(stroke)
            case Arc():
                yield _arc(stroke)
            case Curve():
                yield _curve(stroke)
            case ArrowHead():
                yield _head(stroke)
            case Point():
                yield _point(stroke)
            case Surface():
                yield _surface(stroke)


def _outlines(outlines: list[Outline]) -> Iterator[str]:
    """Yield all edges first, so that parts which hang together have one edge."""
    for width, ink in ((_LIMB, _SHOWN), (_LIMB - 2 * _EDGE, "#fff")):
        for one in outlines:
            (x1, y1), (x2, y2) = _at(one.start), _at(one.end)
            yield (
                f'<line x1="{x1:g}" y1="{y1:g}" x2="{x2:g}" y2="{y2:g}" '
                f'stroke="{ink}" stroke-width="{width:g}"/>'
            )
            for x, y in ((x1, y1),) if one.cut else ((x1, y1), (x2, y2)):
                yield f'<circle cx="{x:g}" cy="{y:g}" r="{width / 2:g}" fill="{ink}"/>'


def _surface(surface: Surface) -> str:
    """Return a line with slanting hatches on one side."""
    start, end = complex(*_at(surface.start)), complex(*_at(surface.end))
    run, side = end - start, complex(surface.side.real * ACROSS, surface.side.imag * DOWN)
    along = run / abs(run)
    hatch = _HATCH * (side / abs(side) - along)
    drawn = [f"M {start.real:.2f} {start.imag:.2f} L {end.real:.2f} {end.imag:.2f}"]
    for number in range(1, int(abs(run) / _APART) + 1):
        foot = start + along * number * _APART
        drawn.append(f"M {foot.real:.2f} {foot.imag:.2f} l {hatch.real:.2f} {hatch.imag:.2f}")
    return f'<path d="{" ".join(drawn)}" fill="none" stroke="{_SHOWN}" stroke-width="1.2"/>'


def _at(place: complex) -> tuple[float, float]:
    """Return the pixel of a place in cells; whole cells are the middles of theirs."""
    return round((place.real + 0.5) * ACROSS, 2), round((place.imag + 0.5) * DOWN, 2)


def _ink(style: str) -> str:
    return _INK.get(style, "#000")


def _line(line: StraightLine) -> str:
    (x1, y1), (x2, y2) = _at(line.start), _at(line.end)
    width = _WIDTH[line.weight]
    if line.weight == "thin":
        width = _STRONG.get(line.style, width)
    elif line.weight == "heavy" and line.style != "segment":
        width = 3.4
    dashes = ' stroke-dasharray="2 4"' if line.weight == "dotted" else ""
    return (
        f'<line x1="{x1:g}" y1="{y1:g}" x2="{x2:g}" y2="{y2:g}" '
        f'stroke="{_ink(line.style)}" stroke-width="{width:g}"{dashes}/>'
    )


def _arc(arc: Arc) -> str:
    (x1, y1), (x2, y2) = _at(arc.at(0)), _at(arc.at(1))
    radius = arc.radius * ACROSS
    sweep = 0 if arc.turned > 0 else 1  # y runs down here
    return (
        f'<path d="M {x1:g} {y1:g} A {radius:g} {radius:g} 0 0 {sweep} {x2:g} {y2:g}" '
        f'fill="none" stroke="{_ink(arc.style)}"/>'
    )


def _curve(curve: Curve) -> str:
    points = " ".join("{:g},{:g}".format(*_at(place)) for place in curve.places)
    dashes = ' stroke-dasharray="6 5"' if curve.weight == "dotted" else ""
    return (
        f'<polyline points="{points}" fill="none" stroke="{_ink(curve.style)}" '
        f'stroke-width="{_CURVE[curve.weight]:g}"{dashes}/>'
    )


def _head(head: ArrowHead) -> str:
    """Return the triangle of an arrow head, its tip a little past the place."""
    x, y = _at(head.tip)
    along = complex(math.cos(math.radians(head.bearing)), -math.sin(math.radians(head.bearing)))
    tip, back = complex(x, y) + 4 * along, complex(x, y) - 8 * along
    corners = (tip, back + 4.5j * along, back - 4.5j * along)
    points = " ".join(f"{c.real:.2f},{c.imag:.2f}" for c in corners)
    return f'<polygon points="{points}" fill="{_ink(head.style)}"/>'


def _point(point: Point) -> str:
    x, y = _at(point.place)
    ink = _ink(point.style)
    if point.shape == "tick":
        return f'<line x1="{x:g}" y1="{y - 5:g}" x2="{x:g}" y2="{y + 5:g}" stroke="{ink}"/>'
    if point.shape == "rung":
        return f'<line x1="{x - 5:g}" y1="{y:g}" x2="{x + 5:g}" y2="{y:g}" stroke="{ink}"/>'
    fill = "#fff" if point.shape in ("ring", "open diamond", "end") else ink
    drawn = f'fill="{fill}" stroke="{ink}" stroke-width="1.6"'
    if point.shape in ("diamond", "open diamond"):
        corners = f"{x:g},{y - 6:g} {x + 6:g},{y:g} {x:g},{y + 6:g} {x - 6:g},{y:g}"
        return f'<polygon points="{corners}" {drawn}/>'
    if point.shape in ("disc", "ring"):
        return f'<circle cx="{x:g}" cy="{y:g}" r="4.5" {drawn}/>'
    if point.shape == "end":
        return f'<circle cx="{x:g}" cy="{y:g}" r="3" {drawn}/>'
    radius = 5 if point.shape == "axis" else 2.5
    return f'<circle cx="{x:g}" cy="{y:g}" r="{radius:g}" fill="{ink}"/>'


def _text(label: Label) -> str:
    """Return a label, as wide as its cells whatever the font, on white where a line is parted."""
    x, y, length = label.column * ACROSS, label.row * DOWN, len(label.text) * ACROSS
    written = escape(plain(label.text))
    return (
        f'<rect x="{x - 2:g}" y="{y + 1:g}" width="{length + 4:g}" height="14" fill="#fff"/>'
        f'<text x="{x:g}" y="{y + DOWN / 2 + 4.5:g}" textLength="{length:g}" '
        f'lengthAdjust="spacingAndGlyphs" style="white-space:pre">{written}</text>'
    )
