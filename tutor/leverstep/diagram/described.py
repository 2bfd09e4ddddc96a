"""The free-body diagram of a question in plain words, one fact to a line.

For the line mode and for screen readers: no signs that are read badly.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping

from leverstep.course.phrases import listed, way_round
from leverstep.course.problem import Question
from leverstep.diagram.bearings import toward
from leverstep.diagram.besides import besides
from leverstep.diagram.body import body_told
from leverstep.diagram.compass import LINES, WAYS, compass, measured_from
from leverstep.diagram.scene import Arrow, Scene
from leverstep.diagram.scene_of_question import scene_of, value_of
from leverstep.statics.acting import Force, SharedSize
from leverstep.statics.centre_of_mass import axes_sought
from leverstep.statics.points import Distance, Given, Offset

_SIDES = {
    "side": ("the upper side of the {}", "the lower side of the {}"),
    "above": (
        "the side of the {} at the top of the plan",
        "the side of the {} at the bottom of the plan",
    ),
}
"""Sides of a segment in words, by where a problem is seen from."""


def describe(
    question: Question,
    values: Mapping[str, float] | None = None,
    hidden: Collection[str] = (),
) -> tuple[str, ...]:
    """Return the diagram in words, posture by posture.

    Args:
        question: what is described.
        values: the steps found so far, by key. With a reaction among them it is told too.
        hidden: the marks of the postures whose diagram the student has still to draw.
    """
    lines: list[str] = []
    for view in question.views:
        if view.introduced:
            lines.append(f"{view.introduced}.")
        if view.problem.posture.mark in hidden:
            lines.append(f"The free-body diagram of the {view.problem.segment} is yours to draw.")
        else:
            lines += describe_one(view, values)
    return tuple(lines)


def describe_one(question: Question, values: Mapping[str, float] | None = None) -> tuple[str, ...]:
    """Return in words the diagram of the posture that is looked at."""
    scene = scene_of(question, values or {})
    posture = question.problem.posture
    view = question.problem.seen_from
    lines = ["It is seen from above, as on a plan."] if view == "above" else []
    if posture.seeks_centre:
        lines.append(f"Origin: the {scene.axis}.")
    elif not posture.has_moments:
        lines.append(f"All forces pass through one point, the {scene.axis}.")
    else:
        lines += [f"Axis of rotation: the {scene.axis}.", _segment(question, scene)]
    if posture.length is not None:
        length = in_words(question, posture.length)
        lines.append(f"The {scene.segment} has length {posture.length.symbol}, {length}.")
    if posture.body is not None:
        mass = question.written(posture.body)
        lines.append(f"The body has mass {posture.body.sign}, {mass}.")
    for piece in posture.pieces:
        name = question.problem.pieces[piece.symbol]
        lines.append(f"{piece.symbol}, the {name}, is {in_words(question, piece)}.")
    lines += body_told(question, values or {})
    for force, arrow in zip(posture.forces, scene.arrows, strict=False):
        lines.append(_force(question, scene, force, arrow))
    for couple in posture.couples:
        name = question.problem.names[couple.symbol]
        if couple.before:
            lines.append(
                f"{couple.symbol}, the moment of the {name}, follows from the segment before."
            )
            continue
        size = question.written(couple.magnitude)
        lines.append(
            f"{couple.symbol}, {name}, a couple of {size}: turns {way_round(couple.turns)}."
        )
    for arrow in scene.arrows[len(posture.forces) :]:
        way, name = compass(arrow.direction, view), question.problem.reaction
        lines.append(f"{arrow.symbol}, the {name}, acts at the {scene.axis} and points {way}.")
    sense = positive_sense(question)
    return (*lines, *([sense] if sense else []), *besides(question))


def senses_told(question: Question) -> tuple[str, ...]:
    """Return which moments are positive in each posture, of several with the posture it is of."""
    told = (f"{view.introduced}. {positive_sense(view)}" for view in question.views)
    return tuple(text.removeprefix(". ").strip() for text in told)


def positive_sense(question: Question) -> str:
    """Return in a sentence which moments are positive, "" where there are none.

    Where a centre of mass is to be found it says so of distances.
    """
    posture = question.problem.posture
    if posture.seeks_centre:
        ways = {"x": "to the right of it", "y": "above it"}
        positive = " and ".join(ways[axis] for axis in axes_sought(posture))
        return f"Seen from the {question.problem.axis}, distances {positive} are positive."
    if not posture.has_moments:
        return ""
    return f"{way_round(posture.positive).capitalize()} moments are positive."


def in_words(question: Question, distance: Distance) -> str:
    """Return what the problem gives for a distance: `36.0 cm`, or `L plus d_g` for the ear."""
    derived = distance.derived
    if derived is None:
        return value_of(question, distance)
    if derived.angle is not None:
        return f"{derived.of[0]} times the {derived.how} of {derived.angle.sign}"
    return (" plus " if derived.how == "sum" else " less ").join(derived.of)


def _segment(question: Question, scene: Scene) -> str:
    view, inclination = question.problem.seen_from, question.problem.posture.inclination
    if inclination is None:
        way = "to the left" if scene.leftward else "to the right"
        points = "points straight" if view == "above" else "is level and points"
        return f"The {scene.segment} {points} {way} from the {scene.axis}."
    inclined_to = question.problem.posture.inclined_to
    way, line = compass(toward(scene.bearing), view), LINES[view][inclined_to]
    angle = _angle(question, inclination)
    return f"The {scene.segment} points {way} from the {scene.axis}, {angle} to the {line}."


def _force(question: Question, scene: Scene, force: Force, arrow: Arrow) -> str:
    name = question.problem.names[force.symbol]
    if force.is_weight and "weight" not in name:
        name = f"the weight of the {name}"
    effort = " (the effort)" if arrow.role == "effort" else ""
    size = _size(question, force)
    where = _place(question, scene, force)
    if force.is_handed_on and not arrow.found:
        is_level = force.direction.reference == "horizontal"
        sort, positive = ("horizontal", "right") if is_level else ("vertical", "up")
        return (
            f"{force.symbol}, the {sort} force of the {name}: {where}, {positive} positive, "
            "follows from the segment before."
        )
    way = _direction(question, scene, force, arrow)
    return f"{force.symbol}, {name}{effort}{size}: {where}, {way}."


def _size(question: Question, force: Force) -> str:
    if force.share is not None:
        share = question.written(force.share.given)
        whole = "the whole" if share == "1" else f"{share} of the"
        return f", {whole} body's {force.share.of}"
    given = force.magnitude
    if isinstance(force.source, SharedSize):
        return _shared(question, force.source)
    if force.source is not None:
        return f", from {listed([question.written(one) for one in force.source.givens])}"
    if given is None or given not in question.givens:
        return ""
    kind = "a mass of " if given.is_mass else ""
    return f", {kind}{question.written(given)}"


def _shared(question: Question, source: SharedSize) -> str:
    """Return how a force compares with the effort, by a rule."""
    shared_with = question.problem.posture.effort
    assert shared_with is not None  # it is shared with that
    own, effort = question.written(source.own), question.problem.names[shared_with.symbol]
    if source.other is None:
        return f", {own} times the force of the {effort}"
    return f", which is to the force of the {effort} as {own} to {question.written(source.other)}"


def _place(question: Question, scene: Scene, force: Force) -> str:
    axis = scene.axis
    if force.between is not None:
        start, end = force.between.start or axis, force.between.end or axis
        share = question.written(force.between.fraction)
        return f"acts at {share} of the way from the {start} to the {end}"
    if force.offset is not None:
        return f"acts {_beside(question, force.offset)} the {axis}"
    if force.at_axis:
        return f"acts through the {axis}"
    distance, value = force.at, in_words(question, force.at)
    if distance.sought:
        value = "which is to be found,"
    if force.turns is not None and distance.perpendicular:
        sense = way_round(force.turns)
        return f"turns {sense} about the {axis} with the moment arm {distance.symbol}, {value}"
    past = _past(question, scene) if distance.beyond else ""
    return f"acts at {distance.symbol}, {value} from the {axis}{past}"


def _past(question: Question, scene: Scene) -> str:
    """Return where a point lies that is past the axis: `on the far side, to the left`."""
    way = compass(-toward(scene.bearing), question.problem.seen_from)
    return f" on the far side, {way.removeprefix('straight ')}"


def _side(question: Question, scene: Scene, arrow: Arrow) -> str:
    return side_told(question, scene.bearing, arrow.direction)


def side_told(question: Question, bearing: float, direction: complex) -> str:
    """Return to which side of the segment a direction leads: `the upper side of the head`.

    `bearing` is that of the segment, in degrees.
    """
    segment, along = question.problem.segment, toward(bearing)
    across = along * 1j if along.real > 0 else along * -1j
    off = (direction * across.conjugate()).real
    if abs(along.real) < 1e-6:
        return f"the {'left' if off * across.real < 0 else 'right'} side of the {segment}"
    return _SIDES[question.problem.seen_from][off < 0].format(segment)


def _beside(question: Question, offset: Offset) -> str:
    parts = []
    if offset.across is not None:
        side = "left" if offset.across.beyond else "right"
        across = f"{offset.across.symbol}, {in_words(question, offset.across)}"
        parts.append(f"{across}, to the {side} of")
    if offset.up is not None:
        height = "below" if offset.up.beyond else "above"
        if question.problem.seen_from == "above":
            height = f"{WAYS['above'][offset.up.beyond]} from"
        parts.append(f"{offset.up.symbol}, {in_words(question, offset.up)}, {height}")
    return " and ".join(parts)


def _direction(question: Question, scene: Scene, force: Force, arrow: Arrow) -> str:
    direction, beyond = force.direction, force.at.beyond
    view = question.problem.seen_from
    way = f"pointing {compass(arrow.direction, view)}"
    if direction.side == "along":
        return f"{way}, parallel to the {scene.segment}"
    if direction.angle is None:
        square = direction.reference == "segment"
        return f"{way}, perpendicular to the {scene.segment}" if square else way
    if direction.attachment is not None:
        along, off = direction.attachment.along, direction.attachment.off
        past = f"{_past(question, scene)}," if along.beyond else ""
        return (
            f"{way}, towards its far end, which lies at {along.symbol}, "
            f"{in_words(question, along)} from the {scene.axis}{past} along the {scene.segment} "
            f"and {off.symbol}, {in_words(question, off)}, off its line, "
            f"to {_side(question, scene, arrow)}"
        )
    angle = _angle(question, direction.angle)
    if direction.reference != "segment":
        return f"{way}, {angle} {measured_from(direction.reference, view)}"
    if beyond:
        end = "away from" if direction.toward == "axis" else "towards"
        line = f"the line of the {scene.segment} and {end} the {scene.axis}"
        return f"{way}, {angle} to {line}, to {_side(question, scene, arrow)}"
    end = f"the {scene.axis}" if direction.toward == "axis" else "its far end"
    side = _side(question, scene, arrow)
    return f"{way}, {angle} to the {scene.segment} and towards {end}, to {side}"


def _angle(question: Question, given: Given) -> str:
    if given == question.problem.posture.sought_angle:
        return f"at {given.sign}, which is to be found,"
    return f"at {given.sign}, {question.written(given).replace('°', ' degrees')},"
