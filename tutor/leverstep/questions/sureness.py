"""How sure a student is of an entry: asked before it is judged, for each alike."""

from __future__ import annotations

from leverstep.questions.choice_question import ChoiceQuestion, OfferedAnswer, QuestionSort

SUREST = 3
"""The number of the answer of who is sure."""

SURENESS = ("a guess", "fairly sure", "sure")
"""What each number from 1 says."""

HOW_SURE = ChoiceQuestion(
    "sure",
    QuestionSort.SURE,
    "How sure are you of this line?",
    tuple(OfferedAnswer(str(number), text) for number, text in enumerate(SURENESS, 1)),
    frozenset(),
)
"""The question; each answer is kept with the entry, by its number."""
