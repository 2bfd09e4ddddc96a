"""What finding slips earns: each line and each slip, as much as mending a line."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from leverstep.bench.bench import Bench
from leverstep.marking.shares import WHOLE
from leverstep.questions.choice_question import QuestionSort
from leverstep.statics.step import Step

FOUND = {QuestionSort.LINE: "line", QuestionSort.SLIP: "slip"}
"""What is to be found, in a word."""

_WHICH = ("first", "second")
"""What each of two slips is called, and its line."""


@dataclass(frozen=True, slots=True)
class FindingMark:
    """What one answer about somebody else's slip earned: all of its share, or nothing.

    `sort` says what was asked for: the line or the slip. `answered` is whether the question was
    answered at all, `was` says what was to be found, and `which` which of several it is.
    """

    task: int
    sort: QuestionSort
    answered: bool
    is_right: bool
    was: str
    which: str = ""

    @property
    def share(self) -> Fraction:
        """Return the share of its marks, from 0 to 1."""
        return Fraction(int(self.is_right))

    @property
    def weight(self) -> Fraction:
        """Return what it counts beside the others: all count alike."""
        return WHOLE

    @property
    def told(self) -> str:
        """Return in a sentence what came of it."""
        how = "found" if self.is_right else "not found" if self.answered else "not answered"
        was = "" if self.is_right else f" It was: {self.was}"
        which = f"{self.which} " if self.which else ""
        return f"The {which}{FOUND[self.sort]}: {how}.{was}"


def finding_marks(task: int, bench: Bench) -> Iterator[FindingMark]:
    """Yield what was found of slips, by the first answers; nothing where none was made."""
    if bench.mending is None:
        return
    asked = bench.mending.asked
    for which, (made, *both) in zip(("",) if len(asked) == 1 else _WHICH, asked, strict=True):
        slip, line = made.made.slip, bench.mending.erroneous.line(made.step.key)
        was = f"{line.text}.", f"{slip.name}. Remember: {slip.reason}"
        for one, told in zip(both, was, strict=True):
            answer = bench.answers.get(one.key, "")
            yield FindingMark(task, one.sort, bool(answer), answer in one.right, told, which)


def marked_steps(bench: Bench) -> tuple[Step, ...]:
    """Return the lines that carry marks: those asked for, or those that are to be mended.

    There are none where the whole working is shown.
    """
    if bench.fading is not None and bench.fading.is_whole:
        return ()
    if bench.mending is None:
        return bench.working.asked
    return tuple(one.step for one in bench.mending.slips)
