"""Problems that are alike in structure: the same working, whatever it is about."""

from __future__ import annotations

from contextlib import suppress

from leverstep.course.problem import Problem
from leverstep.statics.step import Derivation, Step

_SEEDS = 20
"""Numbers without a working are drawn anew, at most so often."""


def are_alike(one: Problem, other: Problem) -> bool:
    """Return whether two problems seek the same, by lines of the same kinds in the same order.

    Each line belongs to the same posture of both; what a problem is called counts for nothing.
    """
    if one.asks != other.asks:  # seen at once, and no derivation is made
        return False
    first, second = _derivation(one), _derivation(other)
    return first is not None and second is not None and _lines(first) == _lines(second)


def steps_beside(one: Problem, other: Problem) -> tuple[tuple[Step, Step], ...]:
    """Return each line of a problem with the same line of one alike."""
    first, second = _derivation(one), _derivation(other)
    if first is None or second is None:
        return ()
    return tuple(zip(first.asked, second.asked, strict=True))


def _lines(derivation: Derivation) -> list[tuple[str, str]]:
    return [(step.mark, step.kind.name) for step in derivation.asked]


def _derivation(problem: Problem) -> Derivation | None:
    """Return the derivation for some numbers, None where none of many have one."""
    for seed in range(_SEEDS):
        with suppress(ValueError):
            return problem.question(str(seed)).derivation
    return None
