"""What finding a slip earns: the line and the slip, each as much as mending the line."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from leverstep.bench.bench import Bench
from leverstep.questions.choice_question import QuestionSort
from leverstep.statics.step import Step

FOUND = {QuestionSort.LINE: "line", QuestionSort.SLIP: "slip"}
"""What is to be found, in a word."""


@dataclass(frozen=True, slots=True)
class FindingMark:
    """What one answer about somebody else's slip earned: all of its share, or nothing.

    `sort` says what was asked for: the line or the slip. `answered` is whether the question was
    answered at all, `was` says what was to be found.
    """

    task: int
    sort: QuestionSort
    answered: bool
    is_right: bool
    was: str

    @property
    def share(self) -> Fraction:
        """Return the share of its marks, from 0 to 1."""
        return Fraction(int(self.is_right))

    @property
    def told(self) -> str:
        """Return in a sentence what came of it."""
        how = "found" if self.is_right else "not found" if self.answered else "not answered"
        was = "" if self.is_right else f" It was: {self.was}"
        return f"The {FOUND[self.sort]}: {how}.{was}"


def finding_marks(task: int, bench: Bench) -> Iterator[FindingMark]:
    """Yield what was found of a slip, by the first answers; nothing where none was made."""
    if bench.mending is None:
        return
    erroneous = bench.mending.erroneous
    slip = erroneous.made.slip
    was = {
        QuestionSort.LINE: f"{erroneous.line(erroneous.step.key).text}.",
        QuestionSort.SLIP: f"{slip.name}. Remember: {slip.reason}",
    }
    for one in bench.mending.questions:
        answer = bench.answers.get(one.key, "")
        yield FindingMark(task, one.sort, bool(answer), answer in one.right, was[one.sort])


def marked_steps(bench: Bench) -> tuple[Step, ...]:
    """Return the lines that carry marks: those asked for, or the one that is to be mended."""
    return bench.working.asked if bench.mending is None else (bench.mending.erroneous.step,)
