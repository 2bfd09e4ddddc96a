"""Distances drawn as dimension lines from the axis, one under the other, and angles stated."""

from __future__ import annotations

from dataclasses import dataclass

from leverstep.diagram.canvas import Canvas, cell
from leverstep.diagram.plan import Plan, flow
from leverstep.diagram.scene import Measure


def draw_measures(canvas: Canvas, plan: Plan, focus: str) -> list[str]:
    """Draw the distances; return the text of each that did not fit."""
    scene, left_out = plan.sketch.scene, []
    top = plan.panel.top
    if plan.kind != "below":
        heading = f"along the {scene.segment}:" if plan.kind == "beside" else "distances:"
        canvas.label(complex(plan.panel.left, top), heading, "plain", "heading")
        top += 1
    for number, measure in enumerate(scene.measures):
        line = _Line(canvas, plan, measure, top + number, measure.symbol == focus)
        if number >= plan.measured or not line.shown():
            left_out.append(measure.text)
    return left_out


def draw_facts(canvas: Canvas, plan: Plan) -> list[str]:
    """State the angles in the last rows of the panel; return those that did not fit."""
    scene, panel = plan.sketch.scene, plan.panel
    texts = [corner.text for corner in scene.corners]
    rows = texts if plan.kind != "below" else flow(texts, panel.width)
    left_out = []
    for number, row in enumerate(rows):
        place = complex(panel.left, panel.bottom + 1 - plan.facts + number)
        shown = number < plan.facts and canvas.label(place, row, "dimension", "angles")
        if not shown:
            left_out.append(row)
    return left_out


@dataclass
class _Line:
    """One dimension line being drawn in one row."""

    canvas: Canvas
    plan: Plan
    measure: Measure
    row: int
    focused: bool

    def shown(self) -> bool:
        """Draw or list the distance; return whether the whole text is shown."""
        whole, short = self.measure.text, self.measure.symbol
        if self.focused:
            whole, short = whole.replace(short, f"[{short}]", 1), f"[{short}]"
        if self.plan.kind == "listed":
            place = complex(self.plan.panel.left, self.row)
            return self._label(place, whole) or self._label(place - 2, whole)
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
        """Draw the line from the axis; return its first and last column."""
        start, end = self.plan.origin, self._end()
        left, right = min(start, end), max(start, end)
        self.canvas.line(complex(left, self.row), complex(right, self.row), self._style)
        for column, tick in ((left, "├|"), (right, "┤|")):
            self.canvas.point(complex(column, self.row), tick, self._style, "tick")
        return left, right

    def _end(self) -> int:
        """Return the column of the far end: that of the force itself under a level segment."""
        run = self.plan.sketch.ruler(self.measure.station)
        run = -run if self.plan.sketch.scene.leftward else run
        _, end = cell(complex(self.plan.origin + run, 0))
        return end

    def _written(self, text: str, left: int, right: int) -> bool:
        """Write a text within the line, or else past either end."""
        room = right - left - 1
        if room >= len(text) + 4:
            place = complex(left + 1 + (room - len(text)) // 2, self.row)
            self.canvas.clear(place - 1, len(text) + 2)
            return self._label(place, text)
        after, before = complex(right + 2, self.row), complex(left - 1 - len(text), self.row)
        places = (after, before) if self._end() == right else (before, after)
        panel = self.plan.panel
        return any(self._label(p, text) for p in places if p.real >= panel.left)
