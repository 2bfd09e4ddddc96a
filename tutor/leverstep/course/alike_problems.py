"""Problems that are alike in structure: the same working, whatever it is about."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import suppress
from itertools import groupby

from leverstep.course.problem import Problem
from leverstep.statics import kinds
from leverstep.statics.step import Derivation, Step

_SEEDS = 20
"""Numbers without a working are drawn anew, at most so often."""

_BESIDE = frozenset({
    kinds.SEGMENT_MASS, kinds.BODY_WEIGHT, kinds.SHARE, kinds.FORCE,
    kinds.DISTANCE, kinds.FRACTION, kinds.DISTANCE_SUM, kinds.ANGLE,
    *(kind for kind in kinds.KINDS.values() if kind.part is kinds.Part.RATIOS),
})  # fmt: skip
"""The kinds of lines that only prepare a given, or tell something beside."""

Line = tuple[str, kinds.Kind]
"""The mark of the posture that a line is of, and its kind."""


def are_alike(one: Problem, other: Problem) -> bool:
    """Return whether two problems seek the same, by the same kinds of lines in the same order.

    Each line belongs to the same posture of both. What a problem is called counts for nothing, nor
    how many forces are treated in one way, nor lines that only prepare a given, nor ratios.
    """
    if one.asks != other.asks:  # seen at once, and no derivation is made
        return False
    first, second = _derivation(one), _derivation(other)
    return first is not None and second is not None and _course(first) == _course(second)


def have_same_lines(one: Problem, other: Problem) -> bool:
    """Return whether each line of a problem that is alike is of the kind of the same line here."""
    return [*map(_line, asked_steps(one))] == [*map(_line, asked_steps(other))]


def asked_steps(problem: Problem) -> tuple[Step, ...]:
    """Return the lines that are asked for, () where no numbers of many have a working."""
    derivation = _derivation(problem)
    return () if derivation is None else tuple(derivation.asked)


def steps_beside(one: Problem, other: Problem) -> tuple[tuple[Step, Step], ...]:
    """Return the lines of a problem that one alike has too, each with that one.

    They are of the same kind; of several such in a posture the first stands beside the first.
    """
    there = dict(_numbered(asked_steps(other)))
    return tuple((step, there[line]) for line, step in _numbered(asked_steps(one)) if line in there)


def _numbered(steps: Sequence[Step]) -> Iterator[tuple[tuple[Line, int], Step]]:
    """Yield each line with what it is, and which of those it is."""
    count: dict[Line, int] = {}
    for step in steps:
        line = _line(step)
        count[line] = count.get(line, 0) + 1
        yield (line, count[line]), step


def _course(derivation: Derivation) -> list[Line]:
    """Return the lines that tell how a problem is worked, each once where several follow."""
    lines = (_line(step) for step in derivation.asked if step.kind not in _BESIDE)
    return [line for line, _ in groupby(lines)]


def _line(step: Step) -> Line:
    return step.mark, step.kind


def _derivation(problem: Problem) -> Derivation | None:
    """Return the derivation for some numbers, None where none of many have one."""
    for seed in range(_SEEDS):
        with suppress(ValueError):
            return problem.question(str(seed)).derivation
    return None
