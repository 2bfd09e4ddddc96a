"""What is told of an answer to a question beside the lines."""

from __future__ import annotations

from leverstep.bench.bench import Bench
from leverstep.dialogue.example_told import reason_told
from leverstep.dialogue.mending_told import now_mend
from leverstep.questions.choice_question import ChoiceQuestion, QuestionSort


def answer_told(bench: Bench, question: ChoiceQuestion, chosen: str) -> str:
    """Return what is told of an answer, by its key, and what is to be mended once a slip is named.

    "" where that waits for the end.
    """
    mending = bench.mending
    if question.sort in (QuestionSort.WHY, QuestionSort.READ):
        return reason_told(bench, question, chosen)
    if mending is None or question not in mending.questions:
        return question.told_of(chosen)
    tells = bench.working.rules.tells
    told = question.told_of(chosen) if tells else ""
    if question is mending.questions[-1]:
        told = f"{told} {now_mend(mending, is_named=bool(chosen) or not tells)}".lstrip()
    return told
