"""The points at which a student may place a force, and the distances that may count."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from leverstep.course.problem import Question
from leverstep.diagram.bearings import bearing_of, toward
from leverstep.diagram.compass import WAYS, compass
from leverstep.diagram.described import in_words
from leverstep.diagram.scene import Scene
from leverstep.diagram.scene_of_question import scene_of
from leverstep.statics.acting import Force
from leverstep.statics.points import Distance

AXIS_POINT = "axis"


@dataclass(frozen=True, slots=True)
class ForcePlace:
    """A point of the posture: its key, what it is called, and where it is drawn, in metres.

    `station` is None where it lies off the line of the segment. `is_exact` says that it is the
    point itself: of a line of action only the moment arm is known, and a distance that is to be
    found is drawn at a guess. `names` are what a student may call it besides.
    """

    key: str
    label: str
    at: complex
    station: float | None
    is_exact: bool = True
    names: tuple[str, ...] = ()

    def is_same(self, other: ForcePlace) -> bool:
        """Return whether two are one point."""
        near = self.is_exact and other.is_exact and abs(self.at - other.at) < 1e-9
        return near or self.key == other.key


@dataclass(frozen=True, slots=True)
class DistanceChoice:
    """A distance of the posture, and whether it leads from the axis to where a force acts.

    `stands_for` is the moment arm that is worked out of it by an angle, "" for none: it leads to
    where that force acts along the segment, and so may be chosen in the place of the moment arm.
    """

    item: str
    label: str
    counts: bool
    stands_for: str = ""


def place_key(force: Force) -> str:
    """Return the key of the point at which a force acts."""
    if force.at_axis:
        return AXIS_POINT
    if force.offset is not None:
        return " ".join(one.symbol for one in force.offset.distances)
    return force.at.symbol


def force_places(question: Question) -> tuple[ForcePlace, ...]:
    """Return the points of a posture, the axis first, then those nearest to it."""
    problem, posture = question.problem, question.problem.posture
    scene = scene_of(question, {})
    axis = ForcePlace(AXIS_POINT, f"the {problem.axis}", 0j, 0.0, names=(problem.axis, AXIS_POINT))
    found = {AXIS_POINT: axis}
    for force in posture.forces:
        key = place_key(force)
        name = problem.names[force.symbol]
        usual = f"centre of mass of the {name}" if force.is_weight else f"attachment of the {name}"
        called = problem.places.get((force.symbol, force.mark), "")
        names = (key, *_along(force.at), called, usual)
        before = found.get(key)
        if before is None:
            arrow = scene.arrow(force.symbol)
            is_exact = not (force.at.perpendicular or force.at.sought)
            found[key] = ForcePlace(
                key, _label(question, scene, force), arrow.at, arrow.station, is_exact, names
            )
        elif key != AXIS_POINT:
            found[key] = replace(before, names=(*before.names, *names))
    for place in _others(question, scene):
        if not any(place.is_same(one) for one in found.values()):
            found[place.key] = place
    nearest = sorted(list(found.values())[1:], key=lambda one: (abs(one.at), one.key))
    return (axis, *nearest)


def _others(question: Question, scene: Scene) -> Iterator[ForcePlace]:
    """Yield points at which no force acts: the end of the segment, the far ends of muscles."""
    problem, length = question.problem, question.problem.posture.length
    for end in scene.far_ends:
        arrow = scene.arrow(end.of)
        ends = problem.posture.force(end.of).direction.attachment
        assert ends is not None, f"{end.of} has a far end"
        along, off = (in_words(question, one) for one in (ends.along, ends.off))
        label = f"{along} along the {problem.segment} and {off} off its line"
        at = arrow.at + end.run * arrow.direction
        yield ForcePlace(ends.along.symbol, label, at, None, names=("far end", "other end"))
    if length is not None and problem.posture.has_moments:
        station = next(one.station for one in scene.measures if one.symbol == length.symbol)
        label = f"{in_words(question, length)} from the {problem.axis}, the end of the segment"
        names = (length.symbol, f"end of the {problem.segment}", "far end")
        yield ForcePlace(length.symbol, label, station * toward(scene.bearing), station,
                         names=names)  # fmt: skip


def _label(question: Question, scene: Scene, force: Force) -> str:
    """Return what the point of a force is called by its distance, which tells no force."""
    axis = question.problem.axis
    if force.offset is not None:
        return _beside(question, force)
    value = in_words(question, force.at)
    if force.at.sought:
        return f"{force.at.symbol}, to be found, from the {axis}"
    if force.at.perpendicular:
        return f"on a line of action {value} from the {axis}"
    past = ""
    if force.at.beyond:
        past = f", {compass(-toward(scene.bearing), question.problem.seen_from)} of it"
    return f"{value} from the {axis}{past.replace('straight ', '')}"


def _beside(question: Question, force: Force) -> str:
    """Return in words where a point beside the axis lies."""
    assert force.offset is not None, f"{force.symbol} lies beside the axis"
    parts = []
    if force.offset.across is not None:
        side = "left" if force.offset.across.beyond else "right"
        parts.append(f"{in_words(question, force.offset.across)} to the {side}")
    if force.offset.up is not None:
        height = "below" if force.offset.up.beyond else "above"
        if question.problem.seen_from == "above":
            height = WAYS["above"][force.offset.up.beyond]
        parts.append(f"{in_words(question, force.offset.up)} {height}")
    return f"{' and '.join(parts)}, from the {question.problem.axis}"


def distance_choices(question: Question) -> tuple[DistanceChoice, ...]:
    """Return every distance of a posture; none where no moment counts."""
    posture = question.problem.posture
    if not posture.has_moments:
        return ()
    leading = [one for force in posture.turning for one in _leading_to(question, force)]
    counting = {one.symbol for one in leading}
    along = {symbol: one.symbol for one in leading for symbol in _along(one)}
    return tuple(
        DistanceChoice(
            one.symbol,
            f"{one.symbol}, {_value(question, one)}",
            one.symbol in counting,
            along.get(one.symbol, ""),
        )
        for one in posture.distances
    )


def _along(arm: Distance) -> tuple[str, ...]:
    """Return the distance along the segment that a moment arm is worked out of by an angle."""
    derived = arm.derived
    return () if derived is None or derived.angle is None else derived.of


def _value(question: Question, distance: Distance) -> str:
    return "to be found" if distance.sought else in_words(question, distance)


def _leading_to(question: Question, force: Force) -> Iterator[Distance]:
    """Yield the distances that lead from the axis to where a force acts, as its moment needs them.

    Straight beside the axis an upright force has its moment by how far across it acts alone.
    """
    if force.offset is None:
        yield force.at
        return
    way = toward(bearing_of(question, force))
    if force.offset.across is not None and abs(way.imag) > 1e-9:
        yield force.offset.across
    if force.offset.up is not None and abs(way.real) > 1e-9:
        yield force.offset.up
