"""A screen with a working, and what helps at its line: the calculator, and the line's terms."""

from __future__ import annotations

from textual.screen import Screen

from leverstep.course.problem import Question
from leverstep.dialogue.working_dialogue import WorkingDialogue
from leverstep.faces.screens.desk import Desk
from leverstep.statics.step import Step

AIDS = "Ctrl+L explains the words of this line"
CALCULATES = " · Ctrl+R works out arithmetic"
"""What is said of the keys of these, where nothing else is to be said."""


class AidedScreen(Screen[None]):
    """Opens the calculator over a working, and tells which line its terms are asked for."""

    dialogue: WorkingDialogue | None
    busy: bool

    @property
    def key_shown(self) -> str:
        """Return the key of the line at hand as it is shown, "" for none."""
        raise NotImplementedError

    @property
    def line_in_question(self) -> tuple[Question, Step] | None:
        """Return the line at hand with its question; None where there is none."""
        dialogue, key = self.dialogue, self.key_shown
        return (dialogue.working.question, dialogue.working.step(key)) if dialogue and key else None

    @property
    def may_calculate(self) -> bool:
        """Return whether there is a calculator: not before the start, at the end, or by a rule."""
        dialogue = self.dialogue
        return bool(dialogue and dialogue.at_hand and dialogue.working.rules.calculator)

    @property
    def aids_told(self) -> str:
        """Return what the keys of these do."""
        return AIDS + (CALCULATES if self.may_calculate else "")

    def action_calculate(self) -> None:
        """Open the calculator, and take over the result that is to be put into the line."""
        dialogue = self.dialogue
        if dialogue is None or self.busy:
            return
        from leverstep.faces.screens.calculator_screen import CalculatorScreen

        def closed(result: str | None) -> None:
            if result:
                self.put_in(result)

        self.app.push_screen(CalculatorScreen(dialogue.reckoner, dialogue.reckon), closed)

    def put_in(self, text: str) -> None:
        """Put a text into the line that is typed, in place of what is selected there."""
        entry = self.query_one(Desk).entry
        entry.replace(text, *sorted(entry.selection))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Offer the calculator only where there is one."""
        if action == "calculate":
            return self.may_calculate
        return super().check_action(action, parameters)
