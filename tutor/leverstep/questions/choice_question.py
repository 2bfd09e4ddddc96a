"""A question with answers to choose from, as data: every face asks it, and none knows an answer."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class QuestionSort(StrEnum):
    """What a question is about, as a teacher reads it."""

    TURNS = "which way a force turns the segment"
    SIZE = "how large the force to be found is"
    PLACE = "where the force to be found acts"
    REACTION = "which way the reaction or resultant points"
    CENTRE = "where the centre of mass lies"
    HUNDRED = "how much force for each 100 N"
    BODY = "how many times the weight of the body"
    CHANGE = "what a change would do"
    SURE = "how sure"
    LINE = "which line is the first that is wrong"
    SLIP = "which slip was made"
    WHY = "why a line is so"
    READ = "a line to read"


@dataclass(frozen=True, slots=True)
class OfferedAnswer:
    """One answer: the key it is kept by, its words, and what is told to who chooses it.

    `told` is "" where that waits for the end.
    """

    key: str
    text: str
    told: str = ""


@dataclass(frozen=True, slots=True)
class ChoiceQuestion:
    """One question: the key it is kept by, what it asks, and its answers in the order of digits.

    `right` holds the keys of the answers that count as right: two where the truth lies near the
    border between them, none where there is nothing to be right. `about` says in a few words what
    it asks, and `truth` what came out, for when that is told at the end.
    """

    key: str
    sort: QuestionSort
    asks: str
    answers: tuple[OfferedAnswer, ...]
    right: frozenset[str]
    about: str = ""
    truth: str = ""

    @property
    def is_read(self) -> bool:
        """Return whether there is nothing to choose, only something to read before going on."""
        return self.sort is QuestionSort.READ

    def answer(self, key: str) -> OfferedAnswer | None:
        """Return the answer with a key; None where there is none."""
        return next((one for one in self.answers if one.key == key), None)

    def numbered(self, number: int) -> OfferedAnswer | None:
        """Return the answer of a digit, from 1; None where there is none."""
        return self.answers[number - 1] if 0 < number <= len(self.answers) else None

    def told_of(self, key: str) -> str:
        """Return what is told to who chooses an answer; "" where that waits for the end."""
        chosen = self.answer(key)
        if chosen is None or not chosen.told:
            return ""
        if key in self.right:
            return f"Yes. {chosen.told}"
        number, right = next(
            (number, one) for number, one in enumerate(self.answers, 1) if one.key in self.right
        )
        told = f": {right.text}" if right.text.endswith(".") else f", {right.text}."
        return f"Not quite. {chosen.told} It is {number}{told}"

    def came_out(self, key: str) -> str:
        """Return in a sentence how an answer that was chosen compares with what came out."""
        chosen = self.answer(key)
        assert chosen is not None, key
        if key in self.right:
            return f"{self.about}: {self.truth}. You expected that."
        return f"{self.about}: {self.truth}. You expected: {chosen.text}."
