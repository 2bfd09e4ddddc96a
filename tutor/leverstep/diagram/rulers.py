"""Distances: under a level segment as dimension lines, one under the other, else along the segment.

Those along the segment have their symbol alone; what the problem gives for them is listed.
"""

from __future__ import annotations

from dataclasses import dataclass

from leverstep.diagram.canvas import Canvas, cell
from leverstep.diagram.plan import Plan, flow, listed
from leverstep.diagram.scene import Measure


def draw_measures(canvas: Canvas, plan: Plan, focus: str) -> list[str]:
    """Draw or list the distances; return the text of each that did not fit."""
    scene = plan.sketch.scene
    if plan.kind == "ruled":
        lines = [
            _Line(canvas, plan, measure, plan.panel.top + number, measure.symbol == focus)
            for number, measure in enumerate(scene.measures)
        ]
        return [
            line.measure.text
            for number, line in enumerate(lines)
            if number >= plan.measured or not line.shown()
        ]
    return _list_measures(canvas, plan, focus)


def _list_measures(canvas: Canvas, plan: Plan, focus: str) -> list[str]:
    """List the distances, as many to a row as fit below the sketch, one to a row beside it."""
    places, left_out = _places_listed(plan), []
    if plan.sketch.scene.measures:
        heading = next(iter(places))
        canvas.label(places[heading], heading, "plain", "heading")
    for measure in plan.sketch.scene.measures:
        text, symbol, style = measure.text, measure.symbol, "dimension"
        if symbol == focus:
            text, style = text.replace(symbol, f"[{symbol}]", 1), "focus"
        place = places[measure.text]
        starts = (place - 1, place, place - 2) if symbol == focus else (place,)
        if not any(_listed(canvas, plan, start, text, style, symbol) for start in starts):
            left_out.append(measure.text)
    return left_out


def _listed(canvas: Canvas, plan: Plan, place: complex, text: str, style: str, of: str) -> bool:
    """Write a text in the panel; return whether there is room."""
    return place.imag <= plan.panel.bottom and canvas.label(place, text, style, of)


def _places_listed(plan: Plan) -> dict[str, complex]:
    """Return where each text of the list stands, its heading first."""
    scene, panel = plan.sketch.scene, plan.panel
    if plan.kind == "beside":
        texts = ["distances:", *(measure.text for measure in scene.measures)]
        return {text: complex(panel.left, panel.top + row) for row, text in enumerate(texts)}
    rows = flow(listed(scene), panel.width - 2)
    return {
        text: complex(panel.left + 1 + column, panel.top + number)
        for number, row in enumerate(rows)
        for column, text in row
    }


def draw_bars(canvas: Canvas, plan: Plan, focus: str) -> None:
    """Draw each distance along the segment, where there is room, with its symbol."""
    sketch = plan.sketch
    if not sketch.bars:
        return
    across = 0.9j * sketch.scene.way
    for number, measure in enumerate(sketch.scene.measures):
        style = "focus" if measure.symbol == focus else "dimension"
        start, end = sketch.bar(number)
        half = (len(measure.symbol) - 1) / 2
        for share in (0.5, 0.65, 0.35, 0.8, 0.2):
            middle = plan.place(start + (end - start) * share)
            if canvas.label(middle - half, measure.symbol, style, measure.symbol):
                break
        canvas.beneath(plan.place(start), plan.place(end), style)
        for tip in (start, end):
            canvas.beneath(plan.place(tip - across), plan.place(tip + across), style)
        station = sketch.along(measure.station)
        canvas.line(plan.place(station), plan.place(end), "dimension", "dotted")
    canvas.line(
        plan.axis, plan.place(sketch.bar(len(sketch.scene.measures) - 1)[0]), "dimension", "dotted"
    )


def draw_facts(canvas: Canvas, plan: Plan) -> list[str]:
    """State the angles and given moment arms in the panel; return those that did not fit."""
    scene, panel = plan.sketch.scene, plan.panel
    texts = list(scene.facts)
    if plan.kind == "beside":
        return texts
    places = _places_listed(plan)
    if plan.kind == "ruled":
        top = panel.bottom + 1 - plan.facts
        places = {
            text: complex(panel.left + column, top + number)
            for number, row in enumerate(flow(texts, panel.width))
            for column, text in row
        }
    return [
        text
        for text in texts
        if not _listed(canvas, plan, places[text], text, "dimension", "angles")
    ]


@dataclass
class _Line:
    """One dimension line being drawn in one row."""

    canvas: Canvas
    plan: Plan
    measure: Measure
    row: int
    focused: bool

    def shown(self) -> bool:
        """Draw the distance; return whether the whole text is shown."""
        whole, short = self.measure.text, self.measure.symbol
        if self.focused:
            whole, short = whole.replace(short, f"[{short}]", 1), f"[{short}]"
        left, right = self._ruled()
        if self._written(whole, left, right):
            return True
        self._written(short, left, right)
        return False

    @property
    def _style(self) -> str:
        return "focus" if self.focused else "dimension"

    def _label(self, place: complex, text: str) -> bool:
        return self.canvas.label(place, text, self._style, self.measure.symbol)

    def _ruled(self) -> tuple[int, int]:
        """Draw the line from the axis; return its first and last column.

        Finer pens draw it to its very end, which need not be the middle of a cell.
        """
        left, right = sorted((complex(self.plan.origin, self.row), self._end()), key=_column)
        self.canvas.line(left, right, self._style)
        for place, tick in ((left, "├|"), (right, "┤|")):
            self.canvas.point(place, tick, self._style, "tick")
        return _column(left), _column(right)

    def _end(self) -> complex:
        """Return the place of the far end: below the force itself under a level segment."""
        run = self.plan.sketch.ruler(self.measure.station)
        run = -run if self.plan.sketch.scene.leftward else run
        return complex(self.plan.origin + run, self.row)

    def _written(self, text: str, left: int, right: int) -> bool:
        """Write a text within the line, or else past either end."""
        room = right - left - 1
        if room >= len(text) + 4:
            place = complex(left + 1 + (room - len(text)) // 2, self.row)
            self.canvas.clear(place - 1, len(text) + 2)
            return self._label(place, text)
        after, before = complex(right + 2, self.row), complex(left - 1 - len(text), self.row)
        places = (after, before) if _column(self._end()) == right else (before, after)
        panel = self.plan.panel
        return any(self._label(p, text) for p in places if p.real >= panel.left)


def _column(place: complex) -> int:
    """Return the column that a place lies in."""
    return cell(place)[1]
