"""How two sizes compare, in words, and what the forces are called that are compared."""

from __future__ import annotations

from leverstep.course.problem import Question
from leverstep.statics.acting import Force
from leverstep.working.writing import plain_number

FIGURES = 3
"""Significant figures of a value."""

TIMES_FIGURES = 2
"""Significant figures of how many times one thing is another."""

ALIKE = 0.05
"""Two things are about as large as each other where they differ by less than this share."""


def called(question: Question, force: Force) -> str:
    """Return what a force is called in a sentence: `weight of the pail`."""
    kind = "weight" if force.is_weight else "force"
    return f"{kind} of the {question.problem.names[force.symbol]}"


def times(ratio: float, measure: str = "large") -> str:
    """Return how one thing compares with another: `8.9 times`, `0.61 of`, `about as large as`."""
    if abs(ratio - 1) < ALIKE:
        return f"about as {measure} as"
    told = plain_number(ratio, TIMES_FIGURES)
    return f"{told} times" if ratio > 1 else f"{told} of"
