"""Answers to questions beside the lines, which earn no marks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from leverstep.bench.bench import Bench
from leverstep.questions.choice_question import ChoiceQuestion, QuestionSort
from leverstep.working.guidance import Guidance
from leverstep.working.rules import Thinking


@dataclass(frozen=True, slots=True)
class AnswerMade:
    """An answer to a question beside the lines, which earns no marks: when, and of which sort.

    `when` is what has it asked: a rule, or the guidance where it is why a shown line is so.
    """

    task: int
    when: Thinking | Guidance
    sort: QuestionSort
    right: bool


def answers_made(task: int, bench: Bench) -> Iterator[AnswerMade]:
    """Yield the answers to questions beside the lines, as they were first given."""
    made: dict[Thinking | Guidance, tuple[tuple[ChoiceQuestion, str], ...]] = {
        Thinking.PREDICT: bench.expected,
        Thinking.SENSE: bench.sensed,
        Guidance.FADING: bench.reasoned,
    }
    for when, chosen in made.items():
        for question, answer in chosen:
            yield AnswerMade(task, when, question.sort, answer in question.right)
