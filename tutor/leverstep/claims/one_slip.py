"""What a line comes to where one choice of its working is made otherwise than it should be.

A number that is none of these may be wrong, or an unusual way of being right: nothing tells.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache

from leverstep.claims.quantity_values import in_si, in_units_of_lines
from leverstep.course.problem import Question
from leverstep.statics.choices import Choice
from leverstep.statics.ratios import other_definitions
from leverstep.statics.step import Derivation, Step

_MOST_LINES = 6
"""A slip is looked for at the line itself, and at so many lines before it that are not written."""

_OTHERWISE: dict[str, tuple[float, ...]] = {
    "factor": (0.001, 0.01, 0.0254, 0.3048, 1 / 12, 12.0),
    "power_of_ten": (-3.0, -2.0, -1.0, 1.0, 2.0, 3.0),
    "root": (1.0,),
    "mass_conversion": (1.0, -1.0),
    "all_round": (1.0, -1.0),
    "area_factor": (1.0, -1.0),
    "added_directly": (1.0, -1.0),
    "couple_as_force": (1.0, -1.0),
    "weighing": (1.0, -1.0),
    "class_taken": (),
    "fraction_constant": (),
    "fraction_multiple": (),
}
"""What a choice is taken as by mistake, by its kind. Of all other kinds a switch is the other way
round, and an exponent or a sign is left out or turned round."""

_TOGETHER: tuple[tuple[tuple[str, float], ...], ...] = (
    (("fraction_constant", 1.0), ("fraction_multiple", 0.0)),
    (("fraction_constant", 1.0), ("fraction_multiple", -1.0)),
    (("fraction_constant", 0.5), ("fraction_multiple", 0.0)),
    (("conversion", 0.0), ("gravity", 0.0)),
    (("conversion", -1.0), ("gravity", 0.0)),
    (("conversion", 0.0), ("mass_conversion", 1.0)),
    (("other_ratio", 1.0), ("ratio_power", -1.0)),
    (("included", 0.0), ("in_between", 1.0)),
)
"""What one mistake changes at once."""

_MADE_EVERYWHERE = ("other_function",)
"""Mistakes that a habit makes at every line where they can be made."""

Changes = tuple[tuple[Choice, float], ...]


def values_with_one_slip(
    question: Question, key: str, own: Mapping[str, float], is_whole: bool
) -> list[float]:
    """Return what a line comes to with one slip, at itself or at a line before that has no value.

    All values are in SI.

    Args:
        question: whose line it is.
        key: the line.
        own: the values of lines that stand on the page.
        is_whole: whether a term that is left out is a slip, too.
    """
    derivation = question.derivation
    probe = question.graph.probe(key, question.numbers, in_units_of_lines(derivation, own))
    found = []
    for changes in _changes(question.derivation, key, frozenset(own)):
        if not is_whole and any(choice.kind == "included" for choice, _ in changes):
            continue
        try:
            found.append(in_si(derivation, {key: probe.at(changes)})[key])
        except (ArithmeticError, ValueError):
            continue
    return found


@lru_cache(maxsize=1024)
def _changes(derivation: Derivation, key: str, written: frozenset[str]) -> tuple[Changes, ...]:
    steps = {step.key: step for step in derivation.steps}
    lines: list[str] = []
    waiting = [key]
    while waiting and len(lines) < _MOST_LINES:
        one = waiting.pop(0)
        if one in steps and one not in lines:
            lines.append(one)
            waiting += [use for use in steps[one].uses if use not in written]
    alone = (change for one in lines for change in _at(steps[one]))
    return (*alone, *_everywhere([steps[one] for one in lines]))


def _everywhere(lines: Sequence[Step]) -> Iterator[Changes]:
    """Yield what one mistake changes that is made at all lines of a kind alike, as where sine
    stands for cosine in each moment arm.
    """
    for kind in {step.kind for step in lines}:
        alike = [c for step in lines if step.kind is kind for c in step.choices]
        switched = [choice for choice in alike if choice.kind in _MADE_EVERYWHERE]
        if len(switched) > 1:
            yield tuple((choice, 1.0) for choice in switched)


def _at(step: Step) -> Iterator[Changes]:
    no_slips = other_definitions(step)
    for choice in (choice for choice in step.choices if choice not in no_slips):
        yield from (((choice, value),) for value in _others(choice))
    for together in _TOGETHER:
        places = [[c for c in step.choices if c.kind == kind] for kind, _ in together]
        for choices in itertools.product(*places):
            if len({choice.about for choice in choices}) == 1:
                values = (value for _, value in together)
                yield tuple(zip(choices, values, strict=True))


def _others(choice: Choice) -> tuple[float, ...]:
    usual = (1.0,) if choice.right == 0 else (0.0, -choice.right)
    return tuple(v for v in _OTHERWISE.get(choice.kind, usual) if v != choice.right)
