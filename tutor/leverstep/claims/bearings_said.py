"""A bearing as what says where a reaction or resultant points: `R at 217°`, `R = 95 N at 217°`."""

from __future__ import annotations

from collections.abc import Mapping

from leverstep.claims.judged_line import Claim, LineStanding
from leverstep.claims.segments import Chain
from leverstep.claims.subject import Subject
from leverstep.course.problem import Question
from leverstep.entry.bearing_typed import bearing_typed, way_of_bearing
from leverstep.statics import kinds
from leverstep.statics.reaction import points_at

_BEFORE = ("at", "∠", ",", "")
"""What may stand between a force and its bearing."""


def standing_of_bearing(
    bearing: float, question: Question, world: Mapping[str, float]
) -> LineStanding:
    """Return whether the reaction or resultant points so, or does by the student's own values.

    Args:
        bearing: in degrees, anticlockwise from the right.
        question: as the posture of that force is looked at.
        world: what the student's own wrong values lead to, by key.
    """
    posture, numbers = question.problem.posture, question.numbers
    if points_at(posture, numbers, question.right, bearing):
        return LineStanding.RIGHT
    follows = points_at(posture, numbers, {**question.right, **world}, bearing)
    return LineStanding.FOLLOWS if follows else LineStanding.WRONG


def bearing_behind(
    chain: Chain, before: Claim, subject: Subject, world: Mapping[str, float]
) -> Claim | None:
    """Return what a chain says of where the force points that was told before it, None for nothing.

    It is wrong only where it is the bearing by no way to measure one, and not that of the force
    on the other body.
    """
    quantity = subject.all.get(before.key)
    if quantity is None or quantity.step is None or not before.standing.holds:
        return None
    if quantity.step.kind not in (kinds.REACTION_SIZE, kinds.RESULTANT_SIZE):
        return None
    bearing = bearing_typed(f"{chain.text} {chain.behind}")
    if bearing is None or chain.before.strip() not in _BEFORE:
        return None
    question = subject.question.at(quantity.step)
    standing = standing_of_bearing(bearing, question, world)
    ways = (bearing, -bearing, 90 - bearing, bearing - 90, bearing + 90)
    others = (way + turned for way in ways for turned in (0, 180))
    if standing is LineStanding.WRONG and any(
        standing_of_bearing(one, question, world).holds for one in others
    ):
        return None
    key = question.key(kinds.REACTION_DIRECTION)
    return Claim(standing, key, way_of_bearing(bearing), text=chain.text)
