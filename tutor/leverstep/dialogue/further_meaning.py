"""What something worked out further means, in a sentence of its own numbers."""

from __future__ import annotations

from collections.abc import Callable

from leverstep.course.phrases import capital
from leverstep.course.problem import Question
from leverstep.statics.posture import Further, Relation
from leverstep.working.writing import plain_number, quantity

_FIGURES = 3


def further_meaning(question: Question) -> str:
    """Return what the first of those worked out further means that has a sentence, "" for none."""
    for further in question.problem.posture.further:
        if further.relation in _TOLD:
            return capital(_TOLD[further.relation](question, further))
    return ""


def _value(question: Question, further: Further) -> str:
    unit = question.derivation.step(further.symbol).unit
    return quantity(question.right[further.symbol], unit, _FIGURES)


def _stress(question: Question, further: Further) -> str:
    name, stress = question.problem.names[further.symbol], question.right[further.symbol]
    each = quantity(stress, "N", _FIGURES)
    return f"the {name} is {_value(question, further)}: each square millimetre bears {each}."


def _other_unit(question: Question, further: Further) -> str:
    newtons = question.right[further.of]
    kilograms = quantity(newtons / question.accepted["g"][0], "kg", _FIGURES)
    force, name = quantity(newtons, "N", _FIGURES), question.problem.names[further.symbol]
    return f"the {name} of {force} is {_value(question, further)}, the weight of {kilograms}."


def _part(question: Question, further: Further) -> str:
    share = 100 * question.right[further.symbol] / abs(question.right[further.of])
    told = f"the {question.problem.names[further.symbol]} is {_value(question, further)}"
    return f"{told}, {plain_number(share, 2)} % of the whole; statics alone could not tell it."


def _moved(question: Question, further: Further) -> str:
    names, given = question.problem.names, further.given
    assert given is not None
    ratio = question.right[further.symbol] / question.in_si(given)
    more, less = (further.of, further.over) if ratio > 1 else (further.over, further.of)
    times = plain_number(max(ratio, 1 / ratio), 2)
    return (
        f"the {names[more]} moves {times} times as far, and as fast, as the point where the "
        f"{names[less]} acts."
    )


def _sped_up(question: Question, further: Further) -> str:
    more = question.right[further.symbol] - question.right[further.of]
    size = quantity(abs(more), "N·m", _FIGURES)
    way = "more than" if more * question.right[further.of] > 0 else "the other way than"
    return f"to speed the {question.problem.segment} up takes {size} {way} to hold it."


_TOLD: dict[Relation, Callable[[Question, Further], str]] = {
    Relation.STRESS: _stress,
    Relation.OTHER_UNIT: _other_unit,
    Relation.PART_SHARED: _part,
    Relation.MOMENT_SPED_UP: _sped_up,
    Relation.DISTANCE_MOVED: _moved,
    Relation.SPEED: _moved,
}
"""The sentences of those relations that need one."""
