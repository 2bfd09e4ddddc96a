"""What a line that was written freely is taken as by its own, before it is kept."""

from __future__ import annotations

import math
from dataclasses import dataclass

from leverstep.course.problem import Question
from leverstep.entry.tree import Reason
from leverstep.working.standing_lines import Line
from leverstep.working.verdict import Outcome, Verdict
from leverstep.working.writing import quantity

_OPERATORS = ("*", "/", "+", "-", "^", "(", "×", "÷", "·", "−")


@dataclass(frozen=True, slots=True)
class Understood:
    """What a line that was written freely is taken as, before it is kept.

    `line` is what would be kept with the verdict, None where nothing would. `is_sure` says that it
    tells by its form which line it is, right or wrong.
    """

    verdict: Verdict
    line: Line | None = None
    is_sure: bool = False

    @property
    def breaks_off(self) -> bool:
        """Return whether it could not be read because an unknown word stands in its formula."""
        text, place = self.verdict.text, self.verdict.place
        return bool(place) and text[:place].rstrip().endswith(_OPERATORS)

    @property
    def is_clear(self) -> bool:
        """Return whether the page need not be asked: it is right, or a line that can't be read."""
        return self.verdict.settled or (self.line is not None and not self.verdict.counts)


def note_of_sign(question: Question, verdict: Verdict, understood: Understood) -> Reason | None:
    """Return which sign the problem gives, where a right size was typed with the other one.

    What only follows from an earlier line has another size, and the right one is to be found.

    Args:
        question: what is worked.
        verdict: on the line as its page has it.
        understood: what the line is by its own.
    """
    typed = understood.line.reading if understood.line is not None else None
    right = question.right.get(verdict.step, math.nan)
    is_other = typed is not None and typed.value * right < 0
    is_same = verdict.step == understood.verdict.step
    is_right = verdict.outcome is Outcome.RIGHT and verdict.reason is None
    if not (is_other and is_same and is_right):
        return None
    unit = next(step.unit for step in question.derivation.steps if step.key == verdict.step)
    return Reason.of("as_size", name=verdict.step, value=quantity(right, unit))
