"""A worked example at its bench: the first lines are shown one by one, the last are open."""

from __future__ import annotations

import logging
from collections.abc import Mapping
from dataclasses import dataclass

from leverstep.questions.choice_question import ChoiceQuestion
from leverstep.questions.why_questions import why_questions
from leverstep.slips.catalogue import Catalogue
from leverstep.working.working import Working
from leverstep.working.writing import worked_line

_log = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class Fading:
    """The lines of a working that are shown, by key, and the question at each.

    A line stands from its question on. It is none of the student's: not asked for, and never
    charged. There are no questions where the reasons could not be made.
    """

    lines: Mapping[str, str]
    questions: tuple[ChoiceQuestion, ...]

    def due(self, answers: Mapping[str, str]) -> ChoiceQuestion | None:
        """Return the question of the line that is read now, None once all are."""
        return next((one for one in self.questions if one.key not in answers), None)

    def at_hand(self, answers: Mapping[str, str]) -> str:
        """Return the key of the line that is read now, "" once all are."""
        asked = zip(self.lines, self.questions, strict=False)
        return next((key for key, one in asked if one.key not in answers), "")

    def reason(self, key: str) -> str:
        """Return why a line is so that is shown; "" where that could not be made."""
        asked = zip(self.lines, self.questions, strict=False)
        return next((one.truth for line, one in asked if line == key), "")

    def hand_out(self, working: Working, up_to: str = "") -> None:
        """Let the lines stand up to the one that is read now, with "" all of them."""
        for key, text in self.lines.items():
            working.hand_out(key, text)
            if key == up_to:
                return


def fading_of(working: Working, shown: int, catalogue: Catalogue) -> Fading | None:
    """Have only the last lines of a working asked for; return what is shown, None for nothing.

    Args:
        working: of which nothing is written yet.
        shown: how many of its first lines are shown; one is asked for in any case.
        catalogue: has the reasons for lines, and wrong ones.
    """
    steps = working.steps[: max(0, min(shown, len(working.steps) - 1))]
    if not steps:
        return None
    working.asked = working.steps[len(steps) :]
    question = working.question
    lines = {step.key: worked_line(question, step, question.right) for step in steps}
    try:
        questions = why_questions(working, steps, catalogue)
    except Exception:  # noqa: BLE001  (the lines can be worked without them)
        _log.exception("No reasons could be shown of %s", question.problem.id)
        questions = ()
    return Fading(lines, questions)
