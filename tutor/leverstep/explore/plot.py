"""A sweep as a plot, laid out once for the terminal and for SVG.

The horizontal scale begins at 0 and shows the span of the given, the vertical one the results that
share a unit. Where a result grows beyond all others its line ends at the top, with an arrow head;
where there is no equilibrium there is no line.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from leverstep.course.decimals import true_minus
from leverstep.course.symbols import spelt
from leverstep.diagram.canvas import Canvas, Label, Piece, Shape, Stroke, Weight, cell
from leverstep.diagram.scene_in_ascii import ascii_text
from leverstep.explore.frame import Frame, PlotPoint, frame_of
from leverstep.explore.results import Result
from leverstep.explore.sweep import Sweep, SweepSample

WEIGHTS: tuple[Weight, ...] = ("heavy", "dotted")
"""How the lines of the first and the second result are drawn."""
_SAMPLES = (("━●━", "#@#"), ("╍◆╍", ".X."))
_NOW: tuple[tuple[str, Shape], ...] = (("●@", "disc"), ("◆X", "diamond"))
_OWN: tuple[tuple[str, Shape], ...] = (("○o", "ring"), ("◇x", "open diamond"))
"""The marks of the present value and of the problem's own, on the first and the second line."""
_STYLES = ("effort", "reaction")
_ASCII = str.maketrans({"−": "-", "·": " ", "°": "deg"})
"""Signs that have a plain form where only ASCII is wanted."""
SMALLEST = (40, 8)
"""The columns and rows that a plot needs."""


@dataclass(frozen=True)
class Plot:
    """A drawn plot.

    `rows` are the pieces of each row. `labels` and `strokes` say where texts and lines stand,
    `frame` where the scales lie. `notes` say what the marks mean and what has no room.
    """

    rows: tuple[tuple[Piece, ...], ...]
    labels: tuple[Label, ...]
    strokes: tuple[Stroke, ...]
    frame: Frame
    notes: tuple[str, ...]

    @property
    def lines(self) -> tuple[str, ...]:
        """Return the rows as plain text."""
        return tuple("".join(piece.text for piece in row) for row in self.rows)


def panels(results: Sequence[Result]) -> tuple[tuple[Result, ...], ...]:
    """Return the results that are drawn together: those of one unit, in order, two at most."""
    units = dict.fromkeys(result.unit for result in results)
    alike = [tuple(one for one in results if one.unit == unit) for unit in units]
    most = len(_SAMPLES)
    return tuple(ones[at : at + most] for ones in alike for at in range(0, len(ones), most))


def plot(
    found: Sweep,
    shown: Sequence[Result],
    now: PlotPoint,
    own: PlotPoint,
    width: int,
    height: int,
    unicode: bool = True,
) -> Plot:
    """Draw a sweep on a grid of cells twice as high as wide.

    Args:
        found: the sweep.
        shown: which of its results, all of one unit.
        now: where the given is at present.
        own: where it is with the problem's own numbers.
        width: columns, at least 40.
        height: rows, at least 8.
        unicode: False where only ASCII characters are to be used.
    """
    drawing = _PlotDrawing(
        Canvas(width, height, unicode), frame_of(found, shown, own, width, height)
    )
    drawing.axes(found, shown)
    drawing.now(now)
    paths = {
        result.key: drawing.curve(found, result, number) for number, result in enumerate(shown)
    }
    drawing.points(shown, own, now)
    unnamed = [result for result in shown if not drawing.name(result, paths)]
    canvas = drawing.canvas
    notes = [drawing.marks(shown, own, now)]
    notes += [f"{_sample(canvas, shown.index(result))} {result.sign}" for result in unnamed]
    drawn = canvas.rows(), tuple(canvas.labels), tuple(canvas.strokes)
    return Plot(*drawn, drawing.frame, tuple(note for note in notes if note))


def _sample(canvas: Canvas, number: int) -> str:
    """Return a piece of the line of the first or the second result, with its mark."""
    return _SAMPLES[number][0 if canvas.unicode else 1]


@dataclass
class _PlotDrawing:
    """A plot being drawn."""

    canvas: Canvas
    frame: Frame

    def _text(self, text: str) -> str:
        if self.canvas.unicode:
            return text
        return ascii_text(spelt(text).translate(_ASCII))

    def axes(self, found: Sweep, shown: Sequence[Result]) -> None:
        """Draw both scales with their ticks, numbers and units."""
        canvas, frame = self.canvas, self.frame
        corner = complex(frame.left, frame.bottom)
        canvas.line(complex(frame.left, frame.top), corner, "dimension")
        canvas.line(corner, complex(frame.right, frame.bottom), "dimension")
        canvas.point(corner, "└+", "dimension", "rung")
        for tick in frame.up.ticks:
            place = frame.place(float(frame.across.low), float(tick))
            if place != corner:
                canvas.point(place, "┤+", "dimension", "rung")
            text = self._text(true_minus(frame.up.written(tick)))
            canvas.label(complex(frame.left - 1 - len(text), place.imag), text, "dimension", "tick")
        for tick in frame.across.ticks:
            column = round(frame.place(float(tick), 0.0).real)
            text = frame.across.written(tick)
            if tick != frame.across.low:
                canvas.point(complex(column, frame.bottom), "┬+", "dimension", "tick")
            start = min(column - len(text) // 2, canvas.width - len(text))
            canvas.label(complex(start, frame.bottom + 1), text, "dimension", "tick")
        self._titles(found, shown)

    def _titles(self, found: Sweep, shown: Sequence[Result]) -> None:
        canvas, movable = self.canvas, found.movable
        lines = [f"{_sample(canvas, n)} {result.sign}" for n, result in enumerate(shown)]
        unit = f" ({shown[0].unit})" if shown[0].unit else ""
        canvas.label(0j, self._text("  ".join(lines) + unit), "plain", "up")
        room = canvas.width - self.frame.left
        for text in (f"{movable.titled}: {movable.name}", movable.titled):
            if len(self._text(text)) <= room:
                place = complex(self.frame.left, canvas.height - 1)
                canvas.label(place, self._text(text), "plain", "across")
                return

    def now(self, now: PlotPoint) -> None:
        """Draw an upright line where the given is at present."""
        foot = self.frame.place(float(now.at), float(self.frame.up.low))
        top, foot = complex(foot.real, self.frame.top), complex(foot.real, self.frame.bottom - 1)
        self.canvas.line(top, foot, "dimension", "dotted")

    def curve(self, found: Sweep, result: Result, number: int) -> list[complex]:
        """Draw a result, without its gaps and without what is off the scale; return its places."""
        there: list[complex] = []
        for run in found.runs:
            for piece in self._within([self._at(sample, result.key) for sample in run]):
                self.canvas.curve(piece, _STYLES[number], WEIGHTS[number])
                there += piece
            for place, bearing in self._leaving(run, result.key):
                self.canvas.head(place, bearing, _STYLES[number])
        return there

    def _at(self, sample: SweepSample, key: str) -> complex:
        assert sample.values is not None
        return self.frame.place(float(sample.at), sample.values[key])

    def _inside(self, place: complex) -> bool:
        return self.frame.top - 1e-6 <= place.imag <= self.frame.bottom + 1e-6

    def _within(self, places: Sequence[complex]) -> Iterator[list[complex]]:
        """Yield the pieces of a line that lie in the frame, each up to its border."""
        piece: list[complex] = []
        before: complex | None = None
        for place in places:
            if before is not None and self._inside(before) != self._inside(place):
                piece.append(self._edge(before, place))
            if self._inside(place):
                piece.append(place)
            elif piece:
                yield piece
                piece = []
            before = place
        if piece:
            yield piece

    def _edge(self, before: complex, after: complex) -> complex:
        """Return where a line between two places, one inside, passes the border of the frame."""
        inside, outside = (before, after) if self._inside(before) else (after, before)
        row = self.frame.top if outside.imag < self.frame.top else self.frame.bottom
        run = outside - inside
        return complex(inside.real + run.real * (row - inside.imag) / run.imag, row)

    def _leaving(self, run: Sequence[SweepSample], key: str) -> Iterator[tuple[complex, float]]:
        """Yield where a line leaves the frame, and whether upward (90) or downward (-90)."""
        places = [self._at(sample, key) for sample in run]
        for before, after in pairwise(places):
            if self._inside(before) != self._inside(after):
                edge = self._edge(before, after)
                yield edge, 90.0 if abs(edge.imag - self.frame.top) < 1e-6 else -90.0

    def points(self, shown: Sequence[Result], own: PlotPoint, now: PlotPoint) -> None:
        """Mark the problem's own point and the present one on each line, or where it is off it.

        The first result comes last, so that its mark is seen where two fall into one cell.
        """
        numbered = list(enumerate(shown))[::-1]
        for number, result in numbered if own.values is not None else ():
            place, (pair, shape) = self._of(own, result), _OWN[number]
            if self._inside(place):
                self.canvas.point(place, pair, "axis", shape)
        for number, result in numbered if now.values is not None else ():
            place, (pair, shape) = self._of(now, result), _NOW[number]
            if self._inside(place):
                self.canvas.point(place, pair, "focus", shape)
            elif place.imag < self.frame.top:
                self.canvas.head(complex(place.real, self.frame.top), 90.0, "focus")
            else:
                self.canvas.head(complex(place.real, self.frame.bottom), -90.0, "focus")

    def _of(self, point: PlotPoint, result: Result) -> complex:
        assert point.values is not None
        return self.frame.place(float(point.at), point.values[result.key])

    def name(self, result: Result, paths: Mapping[str, Sequence[complex]]) -> bool:
        """Write the sign of a result beside its line, at its end if there is room."""
        path, sign = paths[result.key], self._text(result.sign)
        others = [place for key, places in paths.items() if key != result.key for place in places]
        for share in (1.0, 0.9, 0.8, 0.6, 0.4, 0.2, 0.0):
            if not path:
                return False
            place = path[round(share * (len(path) - 1))]
            near = [other.imag for other in others if abs(other.real - place.real) < 2]
            up = -1j if not near or place.imag <= sum(near) / len(near) else 1j
            row, column = cell(place)
            beside = [complex(column + 2, row)] if share == 1.0 else []
            for spot in (*beside, complex(column, row) + up, complex(column, row) + 2 * up):
                fits = self.frame.top <= spot.imag < self.frame.bottom
                if fits and self.canvas.label(spot, sign, "plain", result.key):
                    return True
        return False

    def marks(self, shown: Sequence[Result], own: PlotPoint, now: PlotPoint) -> str:
        """Return what the points mean."""
        there = [now.values is not None and self._inside(self._of(now, r)) for r in shown]
        found = []
        if now.values is None:
            found.append(f"{self.canvas.sign('┆:')} now, no equilibrium")
        elif not all(there):
            off = [result.sign for result, inside in zip(shown, there, strict=True) if not inside]
            found.append(f"{' and '.join(off)} now off the scale")
        if any(there):
            found.insert(0, f"{self._signs(_NOW, there)} now")
        if all(there) and len({cell(self._of(now, result)) for result in shown}) < len(shown):
            found[0] += f", {self.canvas.sign(_NOW[1][0])} in the same place"
        if own != now:
            found.append(f"{self._signs(_OWN, [True] * len(shown))} the problem's own")
        return "   ".join(found)

    def _signs(self, marks: Sequence[tuple[str, Shape]], there: Sequence[bool]) -> str:
        """Return the marks of those results that have one."""
        drawn = zip(marks, there, strict=False)
        return " ".join(self.canvas.sign(pair) for (pair, _), inside in drawn if inside)
