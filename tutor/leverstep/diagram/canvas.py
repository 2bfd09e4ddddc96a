r"""A grid of characters to draw on: lines, arcs, arrow heads and labels, each cell with a style.

Places are complex numbers in cells: the real part is the column, the imaginary part the row
*downwards*, and whole numbers are the middles of cells. Slanting lines are made of braille dots,
two by four to a cell, or of `.-'_/\|` where only ASCII is wanted.

What was drawn is kept beside the cells as strokes, for pens that are finer than characters.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise
from typing import Literal

Weight = Literal["thin", "heavy", "dotted"]
Shape = Literal["axis", "joint", "tick", "rung", "disc", "ring", "diamond", "open diamond"]

_LEVEL = {"thin": "─-", "heavy": "━=", "dotted": "┄."}
_UPRIGHT = {"thin": "│|", "heavy": "┃#", "dotted": "┆:"}
_DRAWN = {"thin": "*", "heavy": "#", "dotted": "."}
"""What a curve is made of where only ASCII is wanted."""
_HEADS = ("▶>", "◥^", "▲^", "◤^", "◀<", "◣v", "▼v", "◢v")
_DOTS = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))
"""The bit of each braille dot, by row and column within its cell."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A run of characters in one row that share a style."""

    text: str
    style: str


@dataclass(frozen=True, slots=True)
class Label:
    """A text in the picture, and the row and column of its first character.

    `of` is the symbol that it stands beside, or the name of what it says.
    """

    of: str
    text: str
    row: int
    column: int


@dataclass(frozen=True, slots=True)
class StraightLine:
    """A straight line between two places."""

    start: complex
    end: complex
    style: str
    weight: Weight


@dataclass(frozen=True, slots=True)
class ArrowHead:
    """The head of an arrow: where its tip is, and its bearing in degrees."""

    tip: complex
    bearing: float
    style: str


@dataclass(frozen=True, slots=True)
class Point:
    """A mark at one place: the axis, where a force acts, or a short line across a longer one.

    A `tick` stands upright, a `rung` lies level; discs, rings and diamonds mark places on curves.
    """

    place: complex
    style: str
    shape: Shape


@dataclass(frozen=True, slots=True)
class Arc:
    """Part of a circle around a place, counter-clockwise by `turned` degrees from a bearing.

    The radius is in widths of a cell.
    """

    centre: complex
    radius: float
    bearing: float
    turned: float
    style: str

    def at(self, share: float) -> complex:
        """Return a place on the arc, from its beginning (0) to its end (1)."""
        angle = math.radians(self.bearing + self.turned * share)
        return self.centre + complex(math.cos(angle), -math.sin(angle) / 2) * self.radius


@dataclass(frozen=True, slots=True)
class Curve:
    """A line through several places."""

    places: tuple[complex, ...]
    style: str
    weight: Weight


Stroke = StraightLine | ArrowHead | Point | Arc | Curve


class Canvas:
    """A grid of `width` by `height` cells; what falls outside is left out."""

    def __init__(self, width: int, height: int, unicode: bool) -> None:
        self.width, self.height, self.unicode = width, height, unicode
        self.labels: list[Label] = []
        self.strokes: list[Stroke] = []
        self._cells: dict[tuple[int, int], tuple[str, str]] = {}
        self._dots: dict[tuple[int, int], int] = {}

    def sign(self, pair: str) -> str:
        """Return the first of two characters, or the second where only ASCII is wanted."""
        return pair[0] if self.unicode else pair[1]

    def put(self, place: complex, character: str, style: str) -> None:
        """Set one cell."""
        row, column = cell(place)
        if 0 <= row < self.height and 0 <= column < self.width:
            self._cells[row, column] = (character, style)
            self._dots.pop((row, column), None)

    def line(self, start: complex, end: complex, style: str, weight: Weight = "thin") -> None:
        """Draw a line; a dotted one only where nothing stands yet."""
        self.strokes.append(StraightLine(start, end, style, weight))
        (row, column), (last_row, last_column) = cell(start), cell(end)
        if row == last_row and abs((end - start).imag) < 0.3:
            character = self.sign(_LEVEL[weight])
            places = [complex(c, row) for c in _between(column, last_column)]
        elif column == last_column and abs((end - start).real) < 0.6:
            character = self.sign(_UPRIGHT[weight])
            places = [complex(column, r) for r in _between(row, last_row)]
        elif weight == "dotted":
            character = self.sign("·.")
            places = _steps(start, end, 2.0)
        else:
            return self._slanting(start, end, style, weight)
        for place in places:
            if weight != "dotted" or (
                self.free(place) and not self._near_label(*cell(place), 1, 1)
            ):
                self.put(place, character, style)
        return None

    def curve(self, places: Sequence[complex], style: str, weight: Weight) -> None:
        """Draw a line through some places, over what stands there.

        A dotted one has gaps and goes beneath what stands there, so that both can be told apart.
        """
        self.strokes.append(Curve(tuple(places), style, weight))
        above = {*self._cells, *self._dots} if weight == "dotted" else set()
        travelled = 0.0
        for start, end in pairwise(places):
            steps = _steps(start, end, 0.5)
            for place in steps:
                travelled += abs(end - start) / (len(steps) - 1)
                if weight == "dotted" and (int(travelled / 1.5) % 2 or cell(place) in above):
                    continue
                if not self.unicode:
                    self.put(place, _DRAWN[weight], style)
                    continue
                self._dot(place, style)
                if weight == "heavy":
                    self._dot(place + 0.25j, style)

    def head(self, place: complex, bearing: float, style: str) -> None:
        """Draw the head of an arrow; `bearing` is counter-clockwise from the right, in degrees."""
        self.strokes.append(ArrowHead(place, bearing, style))
        self.put(place, self.sign(_HEADS[round(bearing / 45) % 8]), style)

    def point(self, place: complex, pair: str, style: str, shape: Shape) -> None:
        """Mark a place with the first of two characters, or the second in ASCII."""
        self.strokes.append(Point(place, style, shape))
        self.put(place, self.sign(pair), style)

    def arc(self, arc: Arc) -> None:
        """Draw part of a circle where nothing stands yet."""
        self.strokes.append(arc)
        count = max(2, math.ceil(abs(math.radians(arc.turned)) * arc.radius * 3))
        places = [arc.at(number / count) for number in range(count + 1)]
        empty = {cell(p) for p in places if self.free(p) and not self._near_label(*cell(p), 1, 1)}
        for place in places:
            if cell(place) in empty:
                if self.unicode:
                    self._dot(place, arc.style)
                else:
                    self.put(place, ".", arc.style)

    def free(self, place: complex, length: int = 1) -> bool:
        """Return whether so many cells of a row lie in the grid and are empty."""
        row, column = cell(place)
        inside = 0 <= row < self.height and column >= 0 and column + length <= self.width
        return inside and not any((row, c) in self._cells for c in range(column, column + length))

    def label(self, place: complex, text: str, style: str, of: str) -> bool:
        """Write a text where it touches nothing; return whether it fits there.

        One cell on either side stays empty, two where another label stands.
        """
        row, column = cell(place)
        left, right = max(column - 1, 0), min(column + len(text) + 1, self.width)
        empty = self.free(place, len(text)) and self.free(complex(left, row), right - left)
        if self._near_label(row, column, len(text), 2) or not empty:
            return False
        for number, character in enumerate(text):
            self.put(place + number, character, style)
        self.labels.append(Label(of, text, row, column))
        return True

    def _near_label(self, row: int, column: int, length: int, gap: int) -> bool:
        """Return whether a label stands within `gap` cells of some cells of a row."""
        return any(
            label.row == row
            and label.column - gap < column + length
            and column - gap < label.column + len(label.text)
            for label in self.labels
        )

    def clear(self, place: complex, length: int) -> None:
        """Empty some cells of a row."""
        row, column = cell(place)
        for emptied in range(column, column + length):
            self._cells.pop((row, emptied), None)

    def rows(self) -> tuple[tuple[Piece, ...], ...]:
        """Return every row as pieces that together are as wide as the grid."""
        signs = [[" "] * self.width for _ in range(self.height)]
        styles = [["plain"] * self.width for _ in range(self.height)]
        for (row, column), (sign, style) in self._cells.items():
            signs[row][column], styles[row][column] = sign, style
        return tuple(map(_pieces, signs, styles))

    def _slanting(self, start: complex, end: complex, style: str, weight: Weight) -> None:
        if not self.unicode:
            return self._ascii(start, end, style, weight)
        shallow = abs((end - start).real) > abs((end - start).imag) / 2
        beside = 0.25j if shallow else 0.5 + 0j
        offsets = (-beside / 2, beside / 2) if weight == "heavy" else (0j,)
        for place in _steps(start, end, 0.25):
            for offset in offsets:
                self._dot(place + offset, style)
        return None

    def _dot(self, place: complex, style: str) -> None:
        across, down = math.floor((place.real + 0.5) * 2), math.floor((place.imag + 0.5) * 4)
        key = (down // 4, across // 2)
        bits = self._dots.get(key, 0) | _DOTS[down % 4][across % 2]
        self.put(complex(key[1], key[0]), chr(0x2800 + bits), style)
        if key in self._cells:
            self._dots[key] = bits

    def _ascii(self, start: complex, end: complex, style: str, weight: Weight) -> None:
        run = end - start
        steep = abs(run.imag) > 0.6 * abs(run.real)
        character = "/" if run.real * run.imag < 0 else "\\"
        upright = abs(run.real) < 0.4 * abs(run.imag)
        for place in _steps(start, end, 1.0, rows=steep):
            if weight == "heavy":
                self.put(place, "#", style)
            elif steep:
                self.put(place, "|" if upright else character, style)
            else:
                height = math.floor((place.imag + 0.5 - math.floor(place.imag + 0.5)) * 4)
                self.put(place, "'-._"[height], style)


def cell(place: complex) -> tuple[int, int]:
    """Return the row and the column of the cell that a place lies in."""
    return math.floor(place.imag + 0.5), math.floor(place.real + 0.5)


def _pieces(signs: list[str], styles: list[str]) -> tuple[Piece, ...]:
    """Return a row of characters, each with its style, as runs that share one."""
    text, found, start = "".join(signs), [], 0
    for style, run in groupby(styles):
        end = start + len(list(run))
        found.append(Piece(text[start:end], style))
        start = end
    return tuple(found)


def _between(first: int, last: int) -> range:
    return range(min(first, last), max(first, last) + 1)


def _steps(start: complex, end: complex, step: float, rows: bool | None = None) -> list[complex]:
    """Return places along a line, `step` columns apart, or rows where `rows` says so."""
    run = end - start
    across, down = abs(run.real), abs(run.imag)
    span = max(across, 2 * down) if rows is None else down if rows else across
    count = max(1, math.ceil(span / step))
    return [start + run * number / count for number in range(count + 1)]
