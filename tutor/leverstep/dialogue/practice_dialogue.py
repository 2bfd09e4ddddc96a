"""The dialogue of practice: a working for which the student decides when reasons are told."""

from __future__ import annotations

from leverstep.bench.practice import Practice
from leverstep.bench.reasons_chosen import choose_reasons
from leverstep.dialogue.replies import DialogueAnswer
from leverstep.dialogue.working_dialogue import WorkingDialogue
from leverstep.working.rules import Reasons

_CHOSEN = {
    Reasons.AT_ONCE: "From now on, the likely slip behind a wrong line is named at once.",
    Reasons.WHEN_ASKED: "From now on, you are told where a line is wrong; a hint names the likely "
    "slip.",
}


class PracticeDialogue(WorkingDialogue):
    """One working of practice, as it is talked through."""

    def __init__(self, practice: Practice) -> None:
        super().__init__(practice)
        self.practice = practice

    def change_reasons(self) -> DialogueAnswer:
        """Have likely slips named at once, or no more at once; the choice is kept."""
        is_at_once = self.working.rules.reasons is Reasons.AT_ONCE
        reasons = Reasons.WHEN_ASKED if is_at_once else Reasons.AT_ONCE
        self.practice.tell_reasons(reasons)
        choose_reasons(reasons)
        return self.say(_CHOSEN[reasons])
