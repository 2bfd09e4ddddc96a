"""A worked example at its bench: the first lines are shown one by one, the last are open.

Or all are shown, and none is open.
"""

from __future__ import annotations

import logging
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from leverstep.questions.choice_question import ChoiceQuestion
from leverstep.questions.why_questions import shown_key, why_questions
from leverstep.slips.catalogue import Catalogue
from leverstep.working.working import Working
from leverstep.working.writing import worked_line

_log = logging.getLogger(__name__)


@dataclass(frozen=True)
class Fading:
    """The first lines of a working, `count` of them, which are shown, and the question at each.

    A line stands from its question on. It is none of the student's: not asked for, and never
    charged.
    """

    working: Working
    count: int
    catalogue: Catalogue

    @property
    def is_whole(self) -> bool:
        """Return whether every line is shown, so that none is asked for."""
        return self.count == len(self.working.steps)

    @cached_property
    def lines(self) -> Mapping[str, str]:
        """Return the lines that are shown, by key."""
        question, steps = self.working.question, self.working.steps[: self.count]
        return {step.key: worked_line(question, step, question.right) for step in steps}

    @cached_property
    def questions(self) -> Mapping[str, ChoiceQuestion]:
        """Return the question at each line, by its key; none where the reasons can't be made.

        They are made on first use, which takes a moment: a record taken again seldom needs them.
        """
        try:
            shown = self.working.steps[: self.count]
            made = why_questions(self.working, shown, self.catalogue)
        except Exception:  # noqa: BLE001  (the lines can be worked without them)
            _log.exception("No reasons could be shown of %s", self.working.question.problem.id)
            return {}
        return dict(zip(self.lines, made, strict=True))

    def due(self, answers: Mapping[str, str]) -> ChoiceQuestion | None:
        """Return the question of the line that is read now, None once all are."""
        return self.questions.get(self.at_hand(answers))

    def at_hand(self, answers: Mapping[str, str]) -> str:
        """Return the key of the line that is read now, "" once all are."""
        return next((key for key in self.lines if shown_key(key) not in answers), "")

    def hand_out(self, up_to: str = "") -> None:
        """Let the lines stand up to the one that is read now, with "" all of them."""
        for key, text in self.lines.items():
            self.working.hand_out(key, text)
            if key == up_to:
                return


def fading_of(working: Working, shown: int, catalogue: Catalogue) -> Fading | None:
    """Have only the last lines of a working asked for; return what is shown, None for nothing.

    Args:
        working: of which nothing is written yet.
        shown: how many of its first lines are shown. Where that is all, the last one is still to
            be done until it is read.
        catalogue: has the reasons for lines, and wrong ones.
    """
    count = min(shown, len(working.steps))
    if count <= 0:
        return None
    working.shown = frozenset(step.key for step in working.steps[:count])
    working.asked = working.steps[count:] or working.steps[-1:]
    return Fading(working, count, catalogue)
