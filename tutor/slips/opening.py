"""Opening a working: an empty one, whose wrong entries are explained by a catalogue of slips."""

from __future__ import annotations

from tutor.course.problem import Question
from tutor.slips.catalogue import Catalogue, catalogue_in_use
from tutor.slips.search import explain
from tutor.working.guidance import Guidance
from tutor.working.rules import Rules
from tutor.working.verdict import Explanation
from tutor.working.working import Attempt, Working


def open_working(
    question: Question,
    catalogue: Catalogue | None = None,
    guidance: Guidance = Guidance.LINES,
    rules: Rules | None = None,
) -> Working:
    """Return an empty working whose wrong entries are explained by the catalogue."""
    slips = catalogue or catalogue_in_use()

    def explained(attempt: Attempt) -> tuple[Explanation, ...]:
        return explain(attempt, slips)

    return Working(question, explained, guidance, rules)
