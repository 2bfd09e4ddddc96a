"""What a centre of mass means, in two sentences of its own numbers."""

from __future__ import annotations

from leverstep.course.problem import Question
from leverstep.statics import kinds
from leverstep.statics.body_points import place_of_part
from leverstep.statics.centre_of_mass import INSIDE, line_of_gravity, weight_key
from leverstep.working.writing import quantity

FIGURES = 3
"""Significant figures of a value."""

_ALIKE = 0.05
"""Two means are nearly alike where they differ by less than this share of the parts' spread."""


def centre_meant(question: Question) -> tuple[str, ...]:
    """Return what the parts of a body have to do with where its centre of mass lies."""
    is_supported = question.key(kinds.SUPPORTED) in question.right
    return _heaviest(question), _support(question) if is_supported else _mean(question)


def _heaviest(question: Question) -> str:
    """Return which part counts most, and with what share of the total."""
    posture, values = question.problem.posture, {**question.numbers, **question.right}
    sizes = {load.symbol: values[weight_key(posture, load)] for load in posture.loads}
    symbol = max(sizes, key=lambda one: sizes[one])
    share = quantity(100 * sizes[symbol] / sum(sizes.values()), "%", 2)
    name = question.problem.names[symbol]
    return (
        f"No part counts more for this centre of mass than the {name}, with {share} of the total."
    )


def _mean(question: Question) -> str:
    """Return how far across the weighed mean lies beside the plain one."""
    posture, axis = question.problem.posture, question.problem.axis
    places = [place_of_part(posture, load, question.numbers).real for load in posture.loads]
    plain, weighed = sum(places) / len(places), line_of_gravity(posture, question.numbers)
    told = (
        f"Across from the {axis} the plain mean of the parts would lie at "
        f"{quantity(plain, 'm', FIGURES)}, the centre of mass is at "
        f"{quantity(weighed, 'm', FIGURES)}: "
    )
    if abs(plain - weighed) < _ALIKE * (max(places) - min(places)):
        return told + "here the two come out nearly alike."
    return told + "heavy parts draw it towards themselves."


def _support(question: Question) -> str:
    """Return what the line of gravity means for standing."""
    values = question.right
    edge = quantity(values[question.key(kinds.EDGE)], "m", FIGURES)
    if values[question.key(kinds.SUPPORTED)] == INSIDE:
        return (
            f"The line of gravity can move {edge} before it passes the nearer edge and the body "
            "tips."
        )
    return (
        f"The line of gravity lies {edge} beyond the edge: without a step or a hand to hold on to, "
        "the body tips over that edge."
    )
