"""How sure a student is of an entry: asked before it is judged, for each alike.

Or said with it, behind the line: `W_l = 93.43 N #2`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from leverstep.questions.choice_question import ChoiceQuestion, OfferedAnswer, QuestionSort

SURENESS = ("a guess", "fairly sure", "sure")
"""What each number from 1 says."""

SUREST = len(SURENESS)
"""The number of who is sure."""

MARKS = "#1, #2 or #3"
"""What a line may end with to say so."""

_MARKED = re.compile(r"(?P<line>.*\S)\s*#\s*(?P<sure>[1-3])\s*", re.DOTALL)
_ASKS = "How sure are you of this line?"


@dataclass(frozen=True, slots=True)
class SureEntry:
    """One entry that was judged: its line by its key, how sure the student was, was it right?"""

    step: str
    sure: int
    right: bool

    @property
    def is_held(self) -> bool:
        """Return whether the student was sure of what was not right."""
        return self.sure == SUREST and not self.right


def said_with(text: str) -> tuple[str, int | None]:
    """Return a line without the mark that it ends with, and how sure that says; None without."""
    marked = _MARKED.fullmatch(text)
    return (text, None) if marked is None else (marked["line"], int(marked["sure"]))


def how_sure(typed: str) -> ChoiceQuestion:
    """Return the question of how sure a student is of what was typed.

    Each answer is kept with the entry, by its number.
    """
    answers = (OfferedAnswer(str(number), text) for number, text in enumerate(SURENESS, 1))
    asks = f"{_ASKS} {typed}"
    return ChoiceQuestion("sure", QuestionSort.SURE, asks, tuple(answers), frozenset())
