"""What may happen to a result when a given changes: the closed set that a student chooses from.

Light, so that a screen has its keys at once.
"""

from __future__ import annotations

from enum import StrEnum


class Answer(StrEnum):
    """What may happen to a result."""

    MORE = "more than doubles"
    DOUBLES = "doubles"
    GROWS = "grows, but does not double"
    SAME = "stays the same"
    SHRINKS = "shrinks, but does not halve"
    HALVES = "halves"
    LESS = "more than halves"


ANSWERS = tuple(Answer)
"""The answers in the order of their numbers, from 1."""

EXACT = 0.005
"""How far, as a share, a factor may lie from 1/2, 1 or 2 and still count as that."""
_NEAR = 0.05
"""How near, as a share, a factor may not come to them without being them."""
_BORDERS = ((Answer.HALVES, 0.5), (Answer.SAME, 1.0), (Answer.DOUBLES, 2.0))
_BETWEEN = (Answer.LESS, Answer.SHRINKS, Answer.GROWS, Answer.MORE)


def answer_of(factor: float) -> Answer | None:
    """Return the answer that a factor stands for, None where it is too near a border to ask."""
    for answer, border in _BORDERS:
        if abs(factor / border - 1) <= EXACT:
            return answer
        if abs(factor / border - 1) < _NEAR:
            return None
    return _BETWEEN[sum(factor > border for _, border in _BORDERS)]


def choices() -> tuple[str, str]:
    """Return the answers, each behind its number: those without a loss, then those with one."""
    told = [f"{number} {answer}" for number, answer in enumerate(ANSWERS, 1)]
    losses = ANSWERS.index(Answer.SHRINKS)
    return "  ".join(told[:losses]), "  ".join(told[losses:])
