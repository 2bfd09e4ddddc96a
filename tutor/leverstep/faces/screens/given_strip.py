"""The strip of givens, which stays in sight whatever else is shown."""

from __future__ import annotations

from leverstep.course.problem import Question
from leverstep.faces.screens.pane import WrappedText
from leverstep.faces.screens.written import NO_BREAK
from leverstep.statics.choices import CONVENTIONS
from leverstep.working.page import givens


class GivenStrip(WrappedText):
    """What a question gives, each with its symbol and unit, and g."""

    def __init__(self) -> None:
        super().__init__("strip")

    def show(self, question: Question) -> None:
        """Show the givens of a question."""
        self.say(given_line(question))


def given_line(question: Question) -> str:
    """Return in one line what is given, g among it, no symbol parted from its value."""
    g = CONVENTIONS["g"]
    parts = (*givens(question), f"{g.sign} = {question.accepted[g.name][0]:g} {g.unit}")
    return f"Given: {' · '.join(part.replace(' ', NO_BREAK) for part in parts)}"
