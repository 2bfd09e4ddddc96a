"""What a problem shows besides its forces, in words: a sentence for each thing.

Only what the problem gives is told in numbers. All else is drawn as is typical, and so told: which
way it lies, and from where to where.
"""

from __future__ import annotations

from collections.abc import Iterator

from leverstep.course.forces import AXIS
from leverstep.course.problem import Question
from leverstep.course.shown import Shown
from leverstep.diagram.bearings import bearing_shown, toward
from leverstep.diagram.compass import LINES, compass
from leverstep.diagram.scene_of_question import value_of

LEAD = (
    "The rest only shows the posture and takes no part in the working; "
    "what the problem does not state of it is drawn as is typical."
)

_LYING = {
    "straight up": ("level", "above"),
    "straight down": ("level", "below"),
    "straight to the left": ("upright", "to the left of"),
    "straight to the right": ("upright", "to the right of"),
}
"""How a surface lies, and where, by the way that leads to it as seen from the side."""


def besides(question: Question) -> Iterator[str]:
    """Yield in sentences what is shown besides the forces, and first that it is only shown."""
    if question.problem.shown:
        yield LEAD
    for shown in question.problem.shown:
        told = _surface if shown.kind == "surface" else _led_to
        yield f"Also shown: the {shown.name}, {told(question, shown)}."


def _led_to(question: Question, shown: Shown) -> str:
    """Return where an outline or a point lies: `straight up from the elbow to the shoulder`."""
    to = f" to the {shown.until}" if shown.until else ""
    if shown.kind == "outline" and shown.end:
        to += f", with the {shown.end} there" if to else f" to the {shown.end}"
    return f"{_way(question, shown)} from {_start(question, shown)}{to}{_length(question, shown)}"


def _surface(question: Question, shown: Shown) -> str:
    """Return where a surface lies: `level, below the ankle`."""
    start, length = _start(question, shown), _length(question, shown)
    lying = _LYING.get(_compass(question, shown))
    if question.problem.seen_from == "side" and lying is not None:
        return f"{lying[0]}, {lying[1] if shown.length else 'at'} {start}{length}"
    return f"square to the way that points {_way(question, shown)} from {start}{length}"


def _start(question: Question, shown: Shown) -> str:
    """Return in words where something shown begins."""
    if shown.at == AXIS:
        return f"the {question.problem.axis}"
    forces = {force.symbol for force in question.problem.posture.forces}
    return f"the point where {shown.at} acts" if shown.at in forces else f"the {shown.at}"


def _compass(question: Question, shown: Shown) -> str:
    return compass(toward(bearing_shown(question, shown)), question.problem.seen_from)


def _way(question: Question, shown: Shown) -> str:
    """Return a way in words, with its angle where that is one of the problem's own."""
    way, direction, problem = _compass(question, shown), shown.direction, question.problem
    line = direction.reference
    named = problem.segment if line == "segment" else LINES[problem.seen_from][line]
    if direction.side == "along":
        return f"{way}, in line with the {named},"
    if direction.angle is None:
        return f"{way}, perpendicular to the {named}," if line == "segment" else way
    if direction.angle.key:
        written = question.written(direction.angle).replace("°", " degrees")
        return f"{way}, at {direction.angle.sign}, {written}, to the {named},"
    if line == "segment" and shown.angle == 0:
        return f"{way}, in line with the {named},"
    return way


def _length(question: Question, shown: Shown) -> str:
    """Return a length that the problem gives, "" for one that is typical."""
    if shown.length is None or not shown.length.told:
        return ""
    symbol, distances = shown.length.of, question.problem.posture.distances
    given = next(distance for distance in distances if distance.symbol == symbol)
    return f", {symbol}, {value_of(question, given)}, away"
