"""How many times the weight of the body a force is, asked after the last line.

That is how a joint reaction is told in the trade. It is asked where the problem gives the mass of
the body, or where the segment is the whole body.
"""

from __future__ import annotations

from collections.abc import Iterator

from leverstep.course.problem import Question
from leverstep.questions.choice_question import ChoiceQuestion, QuestionSort
from leverstep.questions.force_names import force_named, reaction_named, together
from leverstep.questions.ratio_answers import SlippedRatio, told_apart
from leverstep.statics import kinds
from leverstep.statics.posture import Relation
from leverstep.statics.reaction import found_reaction
from leverstep.working.writing import plain_number, quantity

_WHOLE = "body"
"""What a segment is called that is the whole body."""


def times_the_body(question: Question) -> ChoiceQuestion | None:
    """Return the question of how many times the weight of the body a force is, where it applies.

    The force is one that is found, and no line asks for the same: by the numbers, the joint
    reaction or the force of the muscle.

    Raises:
        ValueError, ArithmeticError: where these numbers have no working.
    """
    view = question.views[-1]
    weight, found = body_weight(view), dict(_found(view))
    posture = view.problem.posture
    told = {one.of for one in posture.further if one.relation is Relation.BODY_WEIGHTS}
    asked = [key for key in found if key not in told and found[key][1] > 0]
    if not weight or not asked:
        return None
    key = min(asked, key=lambda key: question.lot("weight of the body beside", key))
    name, size = found[key]
    ratios = [SlippedRatio("right", size / weight, _told(name, size, weight))]
    ratios += _slipped(view, key, found, weight)
    offered = told_apart([one for one in ratios if one.ratio > 0], _times)
    if not offered:
        return None
    asks = f"How many times the weight of the body is the {name}?"
    ident = f"body:{key}"
    return ChoiceQuestion(ident, QuestionSort.BODY, asks, offered, frozenset({"right"}))


def body_weight(view: Question) -> float:
    """Return the weight of the body in N as a problem gives it, 0 where it does not."""
    posture = view.problem.posture
    if posture.body is not None:
        return view.in_si(posture.body) * view.accepted["g"][0]
    own = [force.symbol for force in posture.forces if force.own_weight]
    is_whole = view.problem.segment == _WHOLE and len(own) == 1 and not posture.seeks_centre
    return view.right[own[0]] if is_whole else 0.0


def _found(view: Question) -> Iterator[tuple[str, tuple[str, float]]]:
    """Yield the forces that are found whole: the key of each, and its name and size in N."""
    posture, values = view.problem.posture, view.right
    reaction = found_reaction(posture, view.numbers, values)
    if reaction is not None and reaction[0] == posture.key(kinds.REACTION_SIZE):
        yield reaction[0], (reaction_named(view), abs(reaction[1]))
    force = posture.balancing
    if force is not None and not (force.at.sought or force.own_weight or posture.sharing):
        yield force.symbol, (force_named(view, force), abs(values[force.symbol]))


def _told(name: str, size: float, weight: float) -> str:
    own, whole = quantity(size, "N", 3), quantity(weight, "N", 3)
    return f"The {name} is {own}, and the body weighs {whole}."


def _times(ratio: float) -> str:
    return f"about {plain_number(ratio, 2)} times"


def _slipped(
    view: Question, key: str, found: dict[str, tuple[str, float]], weight: float
) -> Iterator[SlippedRatio]:
    """Yield the ratios that slips give."""
    posture, size = view.problem.posture, found[key][1]
    is_held = [one for one in posture.known_turning if view.right[one.symbol] > 0]
    held = sum(view.right[one.symbol] for one in is_held)
    if held:
        told = f"That is how many times {together(view, is_held)}, not the whole body."
        yield SlippedRatio("held", size / held, told)
    for name, other in (one for its, one in found.items() if its != key):
        yield SlippedRatio("other", other / weight, f"That is how many times the {name} is.")
    told = "That is upside down: how many times the force the weight of the body is."
    yield SlippedRatio("upside-down", weight / size, told)
    gravity = view.accepted["g"][0]
    told = "That divides newtons by kilograms: the weight of the body is a force, in newtons."
    yield SlippedRatio("mass", gravity * size / weight, told)
    told = "That is ten times as much: a decimal point has moved."
    yield SlippedRatio("tenfold", 10 * size / weight, told)
