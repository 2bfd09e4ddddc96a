"""Opening a working: an empty one, whose wrong entries are explained by a catalogue of slips."""

from __future__ import annotations

from leverstep.course.problem import Question
from leverstep.slips.catalogue import Catalogue, catalogue_in_use
from leverstep.slips.search import explain
from leverstep.working.guidance import Guidance
from leverstep.working.rules import Rules
from leverstep.working.verdict import Explanation
from leverstep.working.working import Attempt, Working


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
