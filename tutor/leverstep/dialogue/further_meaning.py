"""What something worked out further means, in a sentence of its own numbers."""

from __future__ import annotations

from collections.abc import Callable

from leverstep.course.phrases import capital
from leverstep.course.problem import Question
from leverstep.dialogue.compared_sizes import FIGURES, TIMES_FIGURES, called, times
from leverstep.statics.further import HOLDS
from leverstep.statics.posture import Further, Relation
from leverstep.statics.reaction import found_reaction
from leverstep.working.writing import plain_number, quantity


def further_meaning(question: Question) -> tuple[str, ...]:
    """Return what each of those worked out further means, in a sentence."""
    return tuple(
        capital(_TOLD[further.relation](view, further))
        for view in question.views
        for further in view.problem.posture.further
    )


def _value(question: Question, further: Further) -> str:
    unit = question.derivation.step(further.symbol).unit
    return quantity(question.right[further.symbol], unit, FIGURES)


def _stress(question: Question, further: Further) -> str:
    name, stress = question.problem.names[further.symbol], question.right[further.symbol]
    each = quantity(stress, "N", FIGURES)
    return f"the {name} is {_value(question, further)}: each square millimetre bears {each}."


def _other_unit(question: Question, further: Further) -> str:
    newtons = _size(question, further.of)
    kilograms = quantity(newtons / question.accepted["g"][0], "kg", FIGURES)
    force, name = quantity(newtons, "N", FIGURES), question.problem.names[further.symbol]
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
    often = plain_number(max(ratio, 1 / ratio), TIMES_FIGURES)
    return (
        f"the {names[more]} moves {often} times as far, and as fast, as the point at which the "
        f"{called(question, question.problem.force(less))} acts."
    )


def _sped_up(question: Question, further: Further) -> str:
    more = question.right[further.symbol] - question.right[further.of]
    size = quantity(abs(more), "N·m", FIGURES)
    way = "more than" if more * question.right[further.of] > 0 else "the other way than"
    return f"to speed the {question.problem.segment} up takes {size} {way} to hold it."


def _size(question: Question, key: str) -> float:
    """Return the size of a quantity; the reaction may have one part alone."""
    if key in question.right:
        return abs(question.right[key])
    found = found_reaction(question.problem.posture, question.numbers, question.right)
    return 0.0 if found is None else abs(found[1])


def _named(question: Question, key: str) -> str:
    """Return what a quantity is called that is compared: a force, or else the reaction."""
    force = next((one for one in question.problem.forces if one.symbol == key), None)
    return question.problem.reaction if force is None else called(question, force)


def _ratio(question: Question, further: Further) -> str:
    of, over = _named(question, further.of), _named(question, further.over)
    ratio = _size(question, further.of) / _size(question, further.over)
    return f"the {of} is {times(ratio)} the {over}."


def _body_weights(question: Question, further: Further) -> str:
    value = _value(question, further)
    often = f"{value} of" if value.endswith("%") else f"{value} times"
    return f"the {_named(question, further.of)} is {often} the weight of the body."


def _friction_needed(question: Question, further: Further) -> str:
    name = question.problem.names[further.symbol]
    return f"so that nothing slips, the {name} is {_value(question, further)}."


def _friction_enough(question: Question, further: Further) -> str:
    assert further.given is not None
    does = "holds" if question.right[further.symbol] == HOLDS else "slips"
    there = plain_number(question.numbers[further.given.key], FIGURES)
    return f"with the coefficient of {there} that there is, it {does}."


def _force_at_arm(question: Question, further: Further) -> str:
    name, force = question.problem.names[further.symbol], question.right[further.symbol]
    doubled = quantity(2 * force, "N", FIGURES)
    return f"the {name} is {_value(question, further)}; with half the arm it would be {doubled}."


def _power(question: Question, further: Further) -> str:
    joules = quantity(question.right[further.symbol], "J", FIGURES)
    told = f"the {question.problem.names[further.symbol]} is {_value(question, further)}"
    return f"{told}: {joules} of work in each second."


_TOLD: dict[Relation, Callable[[Question, Further], str]] = {
    Relation.STRESS: _stress,
    Relation.OTHER_UNIT: _other_unit,
    Relation.BODY_WEIGHTS: _body_weights,
    Relation.FRICTION_NEEDED: _friction_needed,
    Relation.FRICTION_ENOUGH: _friction_enough,
    Relation.PART_SHARED: _part,
    Relation.MOMENT_SPED_UP: _sped_up,
    Relation.DISTANCE_MOVED: _moved,
    Relation.SPEED: _moved,
    Relation.FORCE_AT_ARM: _force_at_arm,
    Relation.POWER: _power,
    Relation.RATIO: _ratio,
}
"""The sentence of each relation."""
