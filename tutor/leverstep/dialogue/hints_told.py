"""The hints on the lines of a working, as they are told: given, or why not, and told again."""

from __future__ import annotations

from collections.abc import Callable

from leverstep.bench.bench import Bench
from leverstep.dialogue.replies import NO_HINTS, DialogueAnswer, HintGiven, Way
from leverstep.working.page import line_name
from leverstep.working.rules import Rung


class HintsTold:
    """Tells the hints of one working, each with what it cost."""

    def __init__(self, bench: Bench, cost: Callable[[str, Rung], str] | None) -> None:
        """Begin.

        Args:
            bench: where the working is worked.
            cost: what says what a hint on a line costs, by its key and how much it tells; None
                where hints are free.
        """
        self._bench = bench
        self._cost = cost
        self._costs: dict[tuple[str, str], str] = {}

    def give(self, key: str) -> DialogueAnswer:
        """Give the next hint of a line."""
        name, number = self._name(key), len(self._bench.hints_given.shown(key)) + 1
        if refused := self._refused(key):
            return DialogueAnswer(key, name, refused)
        hint = self._bench.hint(key)
        if hint is None:
            told = f"There is no further hint for {name}."
            return DialogueAnswer(key, name, told, way=Way.HINTS)
        cost = self._cost(key, hint.rung) if self._cost else ""
        self._costs[key, hint.text] = cost
        there_are = len(self._bench.hints_given.there_are(key))
        given = HintGiven(key, name, number, there_are, hint.text, cost)
        return DialogueAnswer(key, name, hint=given)

    def _refused(self, key: str) -> str:
        """Return why a line has no hint, "" where it may have one."""
        name = self._name(key)
        if not self._bench.working.rules.hints:
            return NO_HINTS
        if self._bench.working.closed(key):
            return f"No tries are left for {name}, so there is no hint."
        if self._bench.shows(key):
            return f"{name} is shown, with its reason: it needs no hint."
        if not self._bench.may_hint(key):
            return f"Nothing that is still to be found rests on {name}, so there is no hint."
        return ""

    def on(self, key: str) -> tuple[HintGiven, ...]:
        """Return the hints given for the entry that stands on a line, to be told again.

        What one cost is known of those given since the working was opened: the line that bears it
        may be another by now.
        """
        name, given = self._name(key), self._bench.hints_given.shown(key)
        there_are = len(self._bench.hints_given.there_are(key))
        costs = [self._costs.get((key, hint.text), "") for hint in given]
        return tuple(
            HintGiven(key, name, number, there_are, hint.text, cost, is_new=False)
            for number, (hint, cost) in enumerate(zip(given, costs, strict=True), 1)
        )

    def in_sight(self, key: str, latest: DialogueAnswer | None) -> tuple[HintGiven, ...]:
        """Return the hints of a line that stay in sight, the latest answer's as the new one."""
        new = None if latest is None else latest.hint
        return tuple(
            new if new is not None and (new.key, new.number) == (key, one.number) else one
            for one in self.on(key)
        )

    def _name(self, key: str) -> str:
        return line_name(self._bench.working.step(key)) if key else ""
