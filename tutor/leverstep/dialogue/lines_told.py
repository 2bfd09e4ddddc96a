"""What is told of the lines of a working at its bench: how each stands, and what is shown."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from leverstep.bench.bench import Bench
from leverstep.bench.tries_told import tries_at
from leverstep.dialogue.example_told import example_told, shown_told
from leverstep.erroneous.slip_questions import introduced
from leverstep.working.page import line_name, outcomes
from leverstep.working.rules import Pictures
from leverstep.working.verdict import Outcome
from leverstep.working.working import Working


class LinesTold:
    """The lines of one working, as they are told of; nothing comes of asking."""

    def __init__(self, bench: Bench) -> None:
        self.bench = bench

    @property
    def working(self) -> Working:
        """Return the working."""
        return self.bench.working

    @property
    def example_told(self) -> str:
        """Return how much is shown where the first lines are an example; else ""."""
        return example_told(self.bench)

    @property
    def introduced(self) -> str:
        """Return what is said first where the working is that of an invented student; else ""."""
        mending = self.bench.mending
        return "" if mending is None else introduced(mending.erroneous)

    @property
    def is_finding(self) -> bool:
        """Return whether it is still asked which slip somebody else made, and on which line."""
        mending = self.bench.mending
        return mending is not None and mending.due(self.bench.answers) is not None

    @property
    def lines_shown(self) -> Mapping[str, str]:
        """Return the lines that an invented student wrote, or that follow by now, by key."""
        mending = self.bench.mending
        return {} if mending is None else mending.shown(self.working)

    @property
    def has_pictures(self) -> bool:
        """Return whether diagrams are shown at all, at once or once they are drawn."""
        return self.working.rules.pictures is not Pictures.OFF

    @property
    def hidden_pictures(self) -> tuple[str, ...]:
        """Return the marks of the postures whose diagram is still to be drawn."""
        pictures = self.bench.picture_work.pictures
        return tuple(one.question.problem.posture.mark for one in pictures if not one.is_closed)

    def filled_told(self, before: Collection[str] = ()) -> str:
        """Return which lines were filled in, but for those before; "" for none."""
        if self.bench.mending is not None:
            return ""
        filled = {key for key in self.working.filled if not self.bench.shows(key)} - {*before}
        new = [step for step in self.working.steps if step.key in filled]
        return f"Filled in for you: {', '.join(map(line_name, new))}." if new else ""

    def closed_told(self, key: str) -> str:
        """Return that a line can't be changed, where no try is left for it; else ""."""
        if key in self.working.filled:
            return (
                f"{self._name(key)} is {'shown' if self.bench.shows(key) else 'filled in'} for you."
            )
        if not key or not self.working.closed(key):
            return ""
        return f"{self._name(key)} can't be changed: no tries are left for it."

    def wrong_told(self, key: str) -> str:
        """Return what is said of the standing entry of a line that is known not to be right."""
        line = self.working.lines.get(key)
        if line is None or outcomes(self.working).get(key) is not Outcome.WRONG:
            return ""
        return self.bench.tell(line.verdict)

    def standing(self, key: str) -> str:
        """Return what came of a written line, as far as that is told."""
        if told := shown_told(self.bench, key):
            return told
        if key in self.working.filled:
            return self.bench.outcome(self.working.lines[key].verdict)
        outcome = outcomes(self.working).get(key)
        if outcome is Outcome.WRONG:
            return self.bench.outcome(self.working.lines[key].verdict)
        return f"{str(outcome or 'saved').capitalize()}."

    def opened(self, key: str) -> str:
        """Return what is said of a written line that is gone back to: how it stands."""
        again = tries_at(self.working, key)
        if self.working.rules.tells:
            return self.wrong_told(key) or again or self.standing(key)
        return f"{self.standing(key)} {again}".rstrip()

    def _name(self, key: str) -> str:
        return line_name(self.working.step(key)) if key else ""
