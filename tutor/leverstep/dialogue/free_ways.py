"""How a line is written where the student decides which comes next, by examples of the problem."""

from __future__ import annotations

from collections.abc import Iterator

from leverstep.course.phrases import capital
from leverstep.course.symbols import sign_of
from leverstep.dialogue.sure_said import SURE_IN_WORDS, says_how_sure
from leverstep.working.page import line_example
from leverstep.working.wording import example
from leverstep.working.working import Working


def ways_to_write(working: Working) -> tuple[str, ...]:
    """Return what is told of it: with a symbol, and in which other ways that this problem has."""
    number = next(step for step in working.asked if step.kind.is_number)
    told = (
        "Here you decide which line comes next: write it with its symbol, "
        f"such as {line_example(number)}."
    )
    sure = (f"End it with how sure you are, {SURE_IN_WORDS}.",) if says_how_sure(working) else ()
    first, *others = (*_other_ways(working), "")
    if not first:
        return told, *sure
    more = "".join(f", and so will {other}" for other in filter(None, others))
    return told, f"{capital(first)}, will do too{more}.", *sure


def _other_ways(working: Working) -> Iterator[str]:
    steps = {step.key: step for step in working.asked}
    words = (s for s in steps.values() if not (s.kind.is_number or s.kind.is_equation))
    if (word := next(words, None)) is not None:
        yield f"a word, such as {example(word)}"
    for view in working.question.views:
        balancing = view.problem.posture.balancing
        if balancing is not None and balancing.symbol in steps and view.problem.posture.has_moments:
            sign = sign_of(balancing.symbol)
            yield f"an equation with one unknown, such as 0 = -8.2 + 0.042*{sign}"
            return
