"""The free-body diagram of a question, drawn to scale with characters."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from leverstep.course.phrases import way_round
from leverstep.course.problem import Question
from leverstep.diagram.backdrop import draw_far_ends, draw_surroundings
from leverstep.diagram.bearings import toward
from leverstep.diagram.canvas import (
    Arc,
    Canvas,
    Label,
    Outline,
    Piece,
    Point,
    Stroke,
    Surface,
    cell,
)
from leverstep.diagram.plan import Plan, plan_alike
from leverstep.diagram.rulers import draw_bars, draw_facts, draw_measures
from leverstep.diagram.scene import Arrow, Corner, Scene, Turning
from leverstep.diagram.scene_in_ascii import ascii_text, in_ascii
from leverstep.diagram.scene_of_question import scenes_compared
from leverstep.statics import kinds
from leverstep.statics.reaction import PARTS

_REACTION = kinds.REACTION_SIZE.key
"""What a reaction is drawn as, whatever of it is known."""

SHEET = (60, 18)
"""Columns and rows of a picture that is drawn finely, as on a sheet of paper."""


@dataclass(frozen=True, slots=True)
class ArrowPlace:
    """Where an arrow stands: row and column of the point where it acts, and of its head."""

    symbol: str
    point: tuple[int, int]
    head: tuple[int, int]


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawn diagram.

    `rows` are the pieces of each row, which together are as wide as asked for. `labels`, `strokes`
    and `marks` say where texts, lines and arrows stand. `legend` states what found no room; `note`
    says what is to scale. `unseen` names what the problem shows besides and the picture does not.
    `points` are the row and column of each of the scene's marks, in their order.
    """

    rows: tuple[tuple[Piece, ...], ...]
    labels: tuple[Label, ...]
    strokes: tuple[Stroke, ...]
    marks: tuple[ArrowPlace, ...]
    legend: tuple[str, ...]
    note: str
    unseen: tuple[str, ...] = ()
    points: tuple[tuple[int, int], ...] = ()

    @property
    def lines(self) -> tuple[str, ...]:
        """Return the rows as plain text."""
        return tuple("".join(piece.text for piece in row) for row in self.rows)

    @property
    def span(self) -> range:
        """Return the rows from the first to the last in which anything stands."""
        drawn = [number for number, line in enumerate(self.lines) if line.strip()]
        return range(drawn[0], drawn[-1] + 1)


@dataclass(frozen=True, slots=True)
class Focus:
    """What stands out: an arrow or a distance by symbol, and the key of a moment arm to draw."""

    symbol: str = ""
    arm: str = ""


def layout(
    question: Question,
    width: int,
    height: int,
    focus: str = "",
    values: Mapping[str, float] | None = None,
    unicode: bool = True,
    fine: bool = False,
) -> Picture:
    """Draw a question on a grid of cells twice as high as wide.

    Args:
        question: what is drawn.
        width: columns, at least 40.
        height: rows, at least 8.
        focus: the symbol of a force, or the key of a step; what it is about stands out.
        values: the steps found so far, by key. With a reaction among them it is drawn.
        unicode: False where only ASCII characters are to be used.
        fine: True where it is drawn with a pen that has room for the distances of a tilted segment.
    """
    question = _looked_at(question, focus)
    scenes, seen = scenes_compared(question, values or {}), _focus(question, focus)
    scenes = tuple(replace(scene, fine=fine) for scene in scenes)
    of_reaction = map(question.key, (kinds.REACTION_SIZE, *PARTS))
    names = {**question.problem.names, **dict.fromkeys(of_reaction, question.problem.reaction)}
    return drawn(scenes, names, width, height, seen, unicode)


def drawn(
    scenes: tuple[Scene, ...],
    names: Mapping[str, str],
    width: int,
    height: int,
    focus: Focus,
    unicode: bool = True,
) -> Picture:
    """Draw the first of some scenes at a scale for all of them.

    `names` says what each of its arrows is, the rest is as for `layout`.
    """
    if not unicode:
        scenes = tuple(map(in_ascii, scenes))
        names = {symbol: ascii_text(name) for symbol, name in names.items()}
    planned = plan_alike(scenes, focus.symbol if focus.arm else "", width, height)
    return _Drawing(Canvas(width, height, unicode), planned, focus).picture(names)


def _looked_at(question: Question, focus: str) -> Question:
    """Return the question as the posture of a step or a given is looked at, if there are several.

    Of a given that several have, that is the first of them.
    """
    if not question.problem.stages or not focus:
        return question
    step = next((step for step in question.derivation.steps if step.key == focus), None)
    if step is not None:
        return question.at(step)
    having = (
        view
        for view in question.views
        if focus
        in {sign for given in view.problem.posture.givens() for sign in (given.key, given.sign)}
    )
    return next(having, question)


def _focus(question: Question, name: str) -> Focus:
    """Return what a step is about; a force's own symbol is about that force."""
    posture = question.problem.posture
    named = {force.symbol for force in posture.forces} | set(posture.turning_symbols)
    if not name or name in named:
        return Focus(name)
    steps = {step.key: step for step in question.derivation.steps}
    if name not in steps:
        return Focus()
    step = steps[name]
    if step.kind.part in (kinds.Part.REACTION, kinds.Part.RESULTANT):
        return Focus(_REACTION)
    return Focus(step.about, step.key if step.kind is kinds.ARM else "")


def _height(stroke: Stroke) -> int:
    """Return how high a stroke lies for finer pens: what is only shown beneath, ends on lines."""
    if isinstance(stroke, Outline | Surface):
        return 0
    return 2 if isinstance(stroke, Point) and stroke.shape == "end" else 1


@dataclass
class _Drawing:
    """A picture being drawn."""

    canvas: Canvas
    plan: Plan
    focus: Focus

    @property
    def scene(self) -> Scene:
        return self.plan.sketch.scene

    def picture(self, names: Mapping[str, str]) -> Picture:
        """Draw everything, first what matters most."""
        self._draw_segment()
        points = tuple(self._draw_marks())
        marks = tuple(self._draw_arrow(arrow) for arrow in self.scene.arrows)
        if self.scene.has_axis:
            self.canvas.point(self.plan.axis, "●O", "axis", "axis")
        self._name_marks(points)
        legend = self._mark_centre()
        legend += draw_far_ends(self.canvas, self.plan, self._write)
        legend += [
            f"{arrow.symbol}: {names[arrow.symbol]}"
            for arrow in self.scene.arrows
            if not self._label_arrow(arrow)
        ]
        for corner in self.scene.corners:
            self._draw_reference(corner)
        legend += draw_measures(self.canvas, self.plan, self.focus.symbol)
        legend += draw_facts(self.canvas, self.plan)
        legend += self.scene.asides
        legend += [*self._draw_arms(), *self._name_axis(), *self._mark_sense()]
        legend += self._mark_couples(names)
        for corner in self.scene.corners:
            self._draw_arc(corner)
            self._label_corner(corner)
        draw_bars(self.canvas, self.plan, self.focus.symbol)
        unseen = draw_surroundings(self.canvas, self.plan, self._write)
        canvas = self.canvas
        drawn = canvas.rows(), tuple(canvas.labels), tuple(sorted(canvas.strokes, key=_height))
        return Picture(*drawn, marks, tuple(legend), self._note(), tuple(unseen), points)

    def _draw_segment(self) -> None:
        if not self.scene.on_line:
            return
        behind, tip = self.plan.sketch.ends
        self.canvas.line(self.plan.place(behind), self.plan.place(tip), "segment", "heavy")

    def _mark_centre(self) -> list[str]:
        """Mark the centre of mass, where it is found."""
        centre, called, sketch = self.scene.centre, self.scene.centre_called, self.plan.sketch
        if centre is None:
            return []
        on_line = self.scene.on_line
        place = self.plan.place(
            sketch.along(centre.real) if on_line else centre * sketch.ruler.scale
        )
        self.canvas.point(place, "◆*", "focus", "diamond")
        row, column = cell(place)
        starts = (column + 2, column - 1 - len(called), column - len(called) // 2)
        places = [complex(start, row + step) for step in (-1, 0, 1) for start in starts]
        if self._write(places, called, "focus", called):
            return []
        return [f"{self.canvas.sign('◆*')}: {called}"]

    def _draw_marks(self) -> Iterator[tuple[int, int]]:
        """Mark the points that have no arrow, and yield where each is."""
        sketch = self.plan.sketch
        for mark in self.scene.marks:
            units = mark.at * sketch.ruler.scale
            if mark.station is not None:
                units = sketch.along(mark.station)
            place, style = self.plan.place(units), "focus" if mark.chosen else "force"
            if mark.chosen or mark.text:
                self.canvas.point(place, "◆*", style, "diamond")
            elif units or not self.scene.has_axis:
                self.canvas.point(place, "┼+", "segment", "end")
            yield cell(place)

    def _name_marks(self, points: Iterable[tuple[int, int]]) -> None:
        """Write what is said at points that have no arrow, where no arrow runs."""
        for mark, (row, column) in zip(self.scene.marks, points, strict=True):
            beside = (column + 2, column - 1 - len(mark.text), column - len(mark.text) // 2)
            places = [complex(start, row + step) for step in (-1, 1, -2, 2, 0) for start in beside]
            if mark.text:
                self._write(places, mark.text, "focus" if mark.chosen else "force", mark.text)

    def _style(self, arrow: Arrow) -> str:
        return "focus" if self._focused(arrow) else arrow.role

    def _focused(self, arrow: Arrow) -> bool:
        return self.focus.symbol == (_REACTION if arrow.role == "reaction" else arrow.symbol)

    def _draw_arrow(self, arrow: Arrow) -> ArrowPlace:
        canvas, sketch, style = self.canvas, self.plan.sketch, self._style(arrow)
        tail, head = self.plan.place(sketch.tail(arrow)), self.plan.place(sketch.head(arrow))
        heavy = self._focused(arrow)
        by_arm = arrow.symbol in self.scene.by_arm
        if arrow.station is None and self.scene.on_line and not by_arm:
            canvas.line(self.plan.axis, tail, "dimension", "dotted")
        start = self.plan.place(sketch.start(arrow))
        canvas.line(start, head, style, "heavy" if heavy else "thin")
        if not arrow.headless:
            canvas.head(head, arrow.bearing, style)
        joint = "•o"
        if self.scene.level and arrow.station is not None and abs(arrow.direction.real) < 1e-6:
            signs = "┿╋" if arrow.headless else "┷┻" if arrow.direction.imag > 0 else "┯┳"
            joint = f"{signs[heavy]}+"
        canvas.point(tail, joint, style, "joint")
        return ArrowPlace(arrow.symbol, cell(tail), cell(head))

    def _write(self, places: Iterable[complex], text: str, style: str, of: str) -> bool:
        """Write a label at the first place where it fits; return whether there is one."""
        room = self.plan.room
        return any(
            self.canvas.label(place, text, style, of)
            for place in places
            if room.top <= place.imag <= room.bottom
            and room.left <= place.real <= room.right + 1 - len(text)
        )

    def _label_arrow(self, arrow: Arrow) -> bool:
        is_told = arrow.size or self.scene.is_being_made
        text = arrow.symbol if is_told else f"{arrow.symbol} ?"
        text = f"[{text}]" if self._focused(arrow) else text
        return self._write(self._beside(arrow, len(text)), text, self._style(arrow), arrow.symbol)

    def _beside(self, arrow: Arrow, length: int) -> Iterator[complex]:
        """Yield places for a label: by the head first, then along the shaft."""
        sketch = self.plan.sketch
        tail, head = self.plan.place(sketch.tail(arrow)), self.plan.place(sketch.head(arrow))
        upright = abs(arrow.direction.real) < 0.4
        for share in (0.0, 0.35, 0.7):
            row, column = cell(head + (tail - head) * share)
            right, left = complex(column + 2, row), complex(column - 1 - length, row)
            yield from (right, left) if upright or arrow.direction.real > 0 else (left, right)
            outward = -1j if arrow.direction.imag >= 0 else 1j
            for step in (outward, -outward):
                yield complex(column - length // 2, row) + step

    def _draw_arms(self) -> list[str]:
        """Draw the moment arms that are given, and the one in focus; return what has no room."""
        for arm in self.scene.arms:
            focused = arm.symbol == self.focus.symbol
            text, style = (f"[{arm.symbol}]", "focus") if focused else (arm.symbol, "dimension")
            self._draw_arm(self.scene.arrow(arm.of), text, style, arm.symbol)
        key = self.focus.arm
        arrow = next((one for one in self.scene.arrows if key and self._focused(one)), None)
        if arrow is None or self._draw_arm(arrow, key, "focus", key):
            return []
        return [f"{key}: from the {self.scene.axis}, perpendicular to {arrow.symbol}"]

    def _draw_arm(self, arrow: Arrow, text: str, style: str, of: str) -> bool:
        """Draw the perpendicular from the axis to a line of action; return whether it is named."""
        axis, foot = self.plan.axis, self.plan.place(self.plan.sketch.foot(arrow))
        self.canvas.line(self.plan.place(self.plan.sketch.tail(arrow)), foot, "dimension", "dotted")
        self.canvas.line(axis, foot, style, "dotted")
        row, column = cell((axis + foot) / 2)
        left = column - len(text)
        places = [
            complex(c, r) for r in (row, row + 1, row - 1, row + 2) for c in (column + 2, left - 1)
        ]
        return self._write(places, text, style, of)

    def _name_axis(self) -> list[str]:
        name = self.scene.axis
        if not self.scene.has_axis:
            return []
        row, column = cell(self.plan.axis)
        starts = (column - len(name) // 2, column - len(name) - 1, column + 2)
        places = [complex(s, row + step) for step in (1, -1, 2, -2, 0) for s in starts]
        written = self._write(places, name, "axis", "axis")
        return [] if written else [f"{self.canvas.sign('●O')}: {name}"]

    def _mark_sense(self) -> list[str]:
        """Show which way round counts as positive, in a corner of the sketch, if there is one."""
        if self.scene.positive_ways:
            return self._mark_ways()
        if not self.scene.positive:
            return []
        return self._in_corner(
            f"{self._turn(self.scene.positive)} +", way_round(self.scene.positive)
        )

    def _mark_ways(self) -> list[str]:
        """Show which ways count as positive, in a corner of the sketch."""
        signs = {"x": ("→+", "x right +"), "y": ("↑+", "y up +")}
        text = " ".join(signs[way][not self.canvas.unicode] for way in self.scene.positive_ways)
        words = {"x": "right", "y": "up"}
        return self._in_corner(text, " and ".join(words[way] for way in self.scene.positive_ways))

    def _in_corner(self, text: str, told: str) -> list[str]:
        """Show what counts as positive in a corner of the sketch; return it in words elsewhere."""
        room = self.plan.room
        columns = (room.right + 1 - len(text), room.left)
        places = [complex(c, row) for row in (room.top, room.bottom) for c in columns]
        written = self._write(places, text, "plain", "sense")
        return [] if written else [f"positive: {told}"]

    def _turn(self, sense: int) -> str:
        if self.canvas.unicode:
            return "↺" if sense > 0 else "↻"
        return "acw" if sense > 0 else "cw"

    def _mark_couples(self, names: Mapping[str, str]) -> list[str]:
        """Show each couple by the way it turns: where it is handed on, or along the segment.

        Return those handed on that found no room; what is given of the others is told in any case.
        """
        legend = []
        for couple in self.scene.couples:
            in_focus = self.focus.symbol == couple.symbol
            called = f"[{couple.symbol}]" if in_focus else couple.symbol
            text = f"{self._turn(couple.turns)} {called}" if couple.turns else f"{called} ?"
            spots = self._spots_of(couple, len(text))
            written = self._write(spots, text, "focus" if in_focus else "force", couple.symbol)
            if not written and couple.station is not None:
                legend.append(f"{text}: moment of the {names[couple.symbol]}")
        return legend

    def _spots_of(self, couple: Turning, length: int) -> Iterator[complex]:
        """Yield places for the sign of a couple."""
        sketch = self.plan.sketch
        if couple.station is None:
            behind, tip = (self.plan.place(end) for end in sketch.ends)
            middles = [behind + (tip - behind) * share for share in (0.6, 0.75, 0.45, 0.9, 0.3)]
            for step in (-2, -1, 1, 2, 3):
                for row, column in (cell(middle - length / 2) for middle in middles):
                    yield complex(column, row + step)
            return
        row, column = cell(self.plan.place(sketch.along(couple.station)))
        for step in (-1, 1, -2, 2, 0, -3, 3):
            for start in (column + 2, column - 1 - length, column - length // 2):
                yield complex(start, row + step)

    def _vertex(self, corner: Corner) -> complex:
        """Return where the two lines of an angle meet, in units around the axis."""
        arrow = next((one for one in self.scene.arrows if one.symbol == corner.of), None)
        return 0j if arrow is None else self.plan.sketch.tail(arrow)

    def _draw_reference(self, corner: Corner) -> None:
        """Draw the line that an angle is measured from, where it is not the segment."""
        if corner.from_segment:
            return
        vertex, reference, sketch = self._vertex(corner), toward(corner.reference), self.plan.sketch
        # As far as the other line reaches along this one, so that it leaves no arrow's room.
        reach = max(2.0, sketch.length * toward(corner.bearing - corner.reference).real)
        if not corner.of:
            is_level = abs(reference.real) > 0.5
            reach = 8.0 if is_level else min(8.0, abs(sketch.ends[1].imag))
        end = vertex + reach * reference
        self.canvas.line(self.plan.place(vertex), self.plan.place(end), "dimension", "dotted")

    def _label_corner(self, corner: Corner) -> None:
        """Write an angle between its two lines where there is room; `draw_facts` states it too."""
        between = toward(corner.reference) + toward(corner.bearing)
        between /= max(abs(between), 1e-9)
        if corner.turned > 180:
            between = -between
        for text in (f"{corner.sign} {corner.value}", corner.sign):
            vertex = self._vertex(corner)
            places = [self.plan.place(vertex + far * between) for far in (7, 9, 5, 11, 13)]
            if between.real < 0:
                places = [place - len(text) for place in places]
            if self._write(places, text, "dimension", corner.sign):
                break

    def _draw_arc(self, corner: Corner) -> None:
        """Draw the arc of an angle from one of its lines to the other, where there is room."""
        vertex = self.plan.place(self._vertex(corner))
        self.canvas.arc(Arc(vertex, 5.0, corner.reference, corner.turned, "dimension"))

    def _note(self) -> str:
        scene = self.scene
        notes = [self._scales_noted()]
        if not scene.level and scene.measures:
            notes.append(f"distances run along the {scene.segment}")
        if any(scene.runs_along(arrow) for arrow in scene.arrows):
            notes.append(f"a force along the {scene.segment} is drawn beside it")
        return "; ".join(notes) + "."

    def _scales_noted(self) -> str:
        """Return whether lengths are to scale, where there are any, and which arrows are."""
        sketch = self.plan.sketch
        others = [one.symbol for one in self.scene.arrows if one.symbol not in sketch.shares]
        but = f" but for {' and '.join(others)}" if others else ""
        if self.scene.at_one_point:
            return f"Arrows to scale{but}" if sketch.shares else "Arrows not to scale"
        if not sketch.ruler.to_scale:
            lengths = "Not to scale: points close together are drawn apart"
            return f"{lengths}, arrows too{but}" if sketch.shares else lengths
        return "Lengths to scale, arrows " + (f"too{but}" if sketch.shares else "not")
