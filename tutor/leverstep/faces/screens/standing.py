"""How exploring stands: the exploration, which given is chosen, what is asked, and what is said."""

from __future__ import annotations

from leverstep.explore.answers import ANSWERS, choices
from leverstep.explore.exploration import Exploration
from leverstep.explore.predictions import Prediction

_KEYS = "↑↓ choose   ←→ change   PgUp PgDn by ten steps   Home its own value"


class Standing:
    """An exploration in the middle of being worked with; each deed says what came of it."""

    def __init__(self, exploration: Exploration, told: str = "") -> None:
        """Begin with what stands on the axis chosen; `told` is what is to be said first."""
        self.exploration = exploration
        self.chosen = exploration.movables.index(exploration.over)
        self.asked: Prediction | None = None
        self._told = told

    @property
    def said(self) -> list[str]:
        """Return the lines to be said: a question, what came of a deed, or of the chosen given."""
        if self.asked is not None:
            return [self.asked.asks, *choices()]
        if self._told:
            return [self._told]
        one, now = self.exploration.movables[self.chosen], self.exploration.now
        low, high = one.at(now, one.span.low), one.at(now, one.span.high)
        step = float(one.span.step)
        told = f"{one.sign}, {one.name}: from {low} to {high} in steps of {step:g}."
        return [told, _KEYS, self.exploration.trouble]

    def offers(self, action: str) -> bool:
        """Return whether something can be done now: answers while it is asked, else all there is.

        Args:
            action: what a key does, such as "move".
        """
        if action == "answer":
            return self.asked is not None
        if action == "ask":
            return bool(self.exploration.predictions)
        if action == "panel" and len(self.exploration.panels) == 1:
            return False
        return self.asked is None

    def choose(self, way: int) -> None:
        """Choose the given before (-1) or after (1)."""
        self.chosen = min(max(self.chosen + way, 0), len(self.exploration.movables) - 1)
        self._told = ""

    def move(self, steps: int) -> None:
        """Change the chosen given by some steps."""
        self.exploration.move(self.exploration.movables[self.chosen], steps)
        self._told = ""

    def set_back(self) -> None:
        """Give the chosen given its own value again."""
        self.exploration.set_back(self.exploration.movables[self.chosen])
        self._told = ""

    def set_all_back(self) -> None:
        """Give all givens their own values again."""
        self.exploration.set_all_back()
        self._told = "All givens have the problem's own values again."

    def hold(self) -> None:
        """Put the chosen given on the axis."""
        self.exploration.over = self.exploration.movables[self.chosen]
        self._told = ""

    def turn_panel(self) -> None:
        """Turn to the results of the next unit."""
        self.exploration.turn_panel()
        self._told = ""

    def ask(self) -> None:
        """Ask the next question, from the problem's own numbers; choose what it is about."""
        self.asked = self.exploration.next_prediction()
        if self.asked is not None:
            keys = [one.key for one in self.exploration.movables]
            self.chosen = keys.index(self.asked.movable.key)

    def answer(self, number: int) -> None:
        """Take an answer, by its number from 1, make the change, and say what came of it."""
        assert self.asked is not None, "answers are offered to a question only"
        self.exploration.show(self.asked)
        self._told = self.asked.told(ANSWERS[number - 1])
        self.asked = None

    def drop_question(self) -> None:
        """Leave the question that is asked."""
        self.asked, self._told = None, ""
