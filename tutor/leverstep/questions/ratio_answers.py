"""Answers that are ratios: the right one, and those that slips in thinking give."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import NamedTuple

from leverstep.questions.choice_question import OfferedAnswer

DECOYS = 3
"""So many answers that are not right are offered, where there are as many."""

_APART = 1.2
"""By this factor two ratios differ at least that are offered side by side."""


class SlippedRatio(NamedTuple):
    """A ratio that a slip gives, or none: the key of its answer, and what is told of it."""

    key: str
    ratio: float
    told: str


def told_apart(
    ratios: Iterable[SlippedRatio], written: Callable[[float], str]
) -> tuple[OfferedAnswer, ...]:
    """Return the answers that can be told apart, the first ratio before all; () for too few.

    Args:
        ratios: each greater than 0; the first is the right one.
        written: how a ratio is written as an answer.
    """
    offered: list[SlippedRatio] = []
    for one in ratios:
        if all(max(one.ratio / o.ratio, o.ratio / one.ratio) > _APART for o in offered):
            offered.append(one)
    if len(offered) < DECOYS:
        return ()
    return tuple(
        OfferedAnswer(one.key, written(one.ratio), one.told) for one in offered[: 1 + DECOYS]
    )
