"""What is told of an answer to a question beside the lines."""

from __future__ import annotations

from leverstep.bench.bench import Bench
from leverstep.dialogue.example_told import reason_told
from leverstep.dialogue.mending_told import slip_told
from leverstep.questions.choice_question import ChoiceQuestion, QuestionSort


def answer_told(bench: Bench, question: ChoiceQuestion, chosen: str) -> str:
    """Return what is told of an answer, by its key, and what is to be mended once slips are named.

    "" where that waits for the end.
    """
    mending = bench.mending
    if question.sort in (QuestionSort.WHY, QuestionSort.READ):
        return reason_told(bench, question, chosen)
    if mending is None or question not in mending.questions:
        return question.told_of(chosen)
    tells = bench.working.rules.tells
    told = question.told_of(chosen) if tells else ""
    return f"{told} {slip_told(mending, question, is_named=bool(chosen) or not tells)}".strip()
