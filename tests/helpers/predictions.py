"""A student who predicts by vectors alone, and shares no arithmetic with the tutor."""

from __future__ import annotations

import math

from leverstep.course.problem import Question
from leverstep.questions.choice_question import ChoiceQuestion, QuestionSort
from leverstep.statics.kinds import NET_MOMENT, SUM
from leverstep.statics.posture import Find

from helpers.bodies import Body
from helpers.equilibrium import Plane


def predicted(question: Question, one: ChoiceQuestion) -> frozenset[str]:
    """Return the keys of the answers that are right by vectors, each as good as the others.

    There are none where vectors of one posture alone do not tell.
    """
    return frozenset(_PREDICTED[one.sort](view_of(question, one), one))


def _sense(turns: float) -> str:
    if abs(turns) < 1e-9:
        return "none"
    return "ccw" if turns > 0 else "cw"


def view_of(question: Question, one: ChoiceQuestion) -> Question:
    """Return the question as the posture is looked at that is asked about."""
    is_later = one.asks.startswith("Then the ")
    return question.views[-1] if is_later else question.views[0]


def _reaction(view: Question) -> complex:
    """Return the force that balances all others, to the right and up."""
    plane, posture = Plane.of(view), view.problem.posture
    sizes = {symbol: size for symbol, (size, _) in plane.solved().items()}
    pulls = [sizes[one.symbol] * complex(*plane.unit(one)) for one in posture.forces]
    way = 1 if posture.find is Find.RESULTANT else -1
    return way * sum(pulls)


def _part(value: float, one_of: float, names: tuple[str, str]) -> str:
    if abs(value) < 1e-9 * one_of:
        return "none"
    return names[0] if value > 0 else names[1]


def _turns(view: Question, one: ChoiceQuestion) -> set[str]:
    posture, plane = view.problem.posture, Plane.of(view)
    symbol = one.key.removeprefix("turns:").removesuffix(posture.mark)
    if symbol == "sum":  # a chain's forces are handed on: only their signs are looked at here
        key = view.key(NET_MOMENT if posture.find is Find.NET_MOMENT else SUM)
        turned = view.right[key] * posture.positive
        if not view.problem.stages:
            turned = sum(moment for _, moment in plane.solved().values()) + plane.turned()
            turned *= -1 if posture.find is Find.NET_MOMENT else 1
        return {_sense(turned)}
    couples = {couple.symbol: couple.turns for couple in posture.couples}
    if symbol in couples:
        return {_sense(couples[symbol])}
    if posture.force(symbol).at.sought:
        return {_sense(plane.solved()[symbol][1])}
    return {_sense(plane.lever(posture.force(symbol)))}


def _sizes(view: Question) -> dict[str, float]:
    return {symbol: size for symbol, (size, _) in Plane.of(view).solved().items()}


def ratio_to_loads(view: Question) -> float | None:
    """Return how many times the loads the force to be found is; None where two forces are."""
    posture, sizes = view.problem.posture, _sizes(view)
    if posture.find is Find.TWO_FORCES:
        return None
    found = posture.balancing
    assert found is not None
    sizes |= view.right if view.problem.stages else {}
    return sizes[found.symbol] / sum(sizes[force.symbol] for force in posture.known_turning)


def decades_off(one: ChoiceQuestion, ratio: float) -> dict[str, float]:
    """Return by how many decades each answer of a size is off a ratio; they begin at a tenth."""
    decades = (place / 2 - 1 for place in range(len(one.answers)))
    return {
        answer.key: abs(math.log10(ratio) - decade)
        for answer, decade in zip(one.answers, decades, strict=True)
    }


def _size(view: Question, one: ChoiceQuestion) -> set[str]:
    ratio = ratio_to_loads(view)
    if ratio is None:
        sizes = _sizes(view)
        return {max(view.problem.posture.unknown, key=lambda force: sizes[force.symbol]).symbol}
    off = decades_off(one, ratio)
    return {key for key in off if off[key] < min(off.values()) + 1e-9}


def _place(view: Question, one: ChoiceQuestion) -> set[str]:
    found = view.problem.posture.balancing
    assert found is not None
    solved = Plane.of(view).solved()
    arms = {symbol: abs(moment) / size for symbol, (size, moment) in solved.items()}
    against = {s: m for s, (_, m) in solved.items() if m * solved[found.symbol][1] < 0}
    largest = max(against, key=lambda symbol: abs(against[symbol]))
    assert f"({largest})" in one.asks
    return {"nearer" if arms[found.symbol] < arms[largest] else "farther"}


def _way_of_reaction(view: Question, one: ChoiceQuestion) -> set[str]:
    if view.problem.stages:
        return set()  # what is handed on is looked at by tests of the derivation
    whole = _reaction(view)
    if "across" in one.key:
        return {_part(whole.real, abs(whole), ("right", "left"))}
    return {_part(whole.imag, abs(whole), ("up", "down"))}


def _centre(view: Question, one: ChoiceQuestion) -> set[str]:
    posture = view.problem.posture
    body = Body(posture, view.numbers)
    x, y = body.centre()
    match one.key:
        case "centre:x_c":
            expected = _part(x, 1.0, ("right", "left"))
        case "centre:y_c":
            expected = _part(y, 1.0, ("above", "below"))
        case _:
            assert posture.support is not None
            left, right = (body.metres(edge) for edge in posture.support.distances)
            expected = "inside" if left <= x <= right else "outside"
    return {"level" if expected == "none" else expected}


_PREDICTED = {
    QuestionSort.TURNS: _turns,
    QuestionSort.SIZE: _size,
    QuestionSort.PLACE: _place,
    QuestionSort.REACTION: _way_of_reaction,
    QuestionSort.CENTRE: _centre,
}
