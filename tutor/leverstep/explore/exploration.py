"""One exploration: a question, its numbers as they have been moved, and what is on the axis."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cached_property
from textwrap import wrap

from leverstep.course.plain_text import near, plain
from leverstep.course.problem import Question
from leverstep.course.symbols import sign_of, spelt
from leverstep.diagram.canvas import Label
from leverstep.diagram.svg import svg
from leverstep.explore.frame import PlotPoint
from leverstep.explore.givens import Movable, movables
from leverstep.explore.plot import Plot, panels, plot
from leverstep.explore.predictions import Prediction, predictions
from leverstep.explore.results import Result, Values, results_of, values_of
from leverstep.explore.sentences import limits, off_scale
from leverstep.explore.sweep import Sweep, sweep
from leverstep.working.cautions import CAUTION
from leverstep.working.own import OwnError, read_values


class Exploration:
    """Holds the problem's own question beside the one with its givens moved.

    `own` is the question as it was drawn, `now` as it stands; `over` is the given on the
    horizontal axis, `panel` the number of the results that are drawn.
    """

    def __init__(self, question: Question) -> None:
        self.own = self.now = question
        self.movables = movables(question)
        self.results = results_of(question)
        self.over = _first(self.movables)
        self.panel = 0
        self._asked = 0
        self._swept: tuple[Question, Movable, Sweep] | None = None

    def hold(self, symbol: str) -> str:
        """Put the given with a sign on the axis; return why it can't be, "" where it is there.

        A Greek letter may be spelt.
        """
        there = {one.sign: one for one in self.movables}
        if sign_of(symbol) in there:
            self.over = there[sign_of(symbol)]
            return ""
        spellings = [spelt(sign) for sign in there]
        return f"no given {plain(symbol)}{near(symbol, spellings)}; one of {', '.join(spellings)}"

    def warm_up(self) -> None:
        """Derive every posture on the way over each span, so that each change is quick."""
        for movable in self.movables:
            assert sweep(self.now, movable).samples

    def move(self, movable: Movable, steps: int) -> None:
        """Change a given by some steps."""
        value = movable.span.moved(self.now.exact[movable.key], steps)
        self.now = self.now.with_given(movable.key, value)

    def change(self, text: str) -> None:
        """Change givens as they are typed: `d_l = 40 cm`.

        Raises:
            OwnError: with the reason, where nothing was changed.
        """
        there = {one.key: one for one in self.movables}
        if not text.strip():
            raise OwnError("a given and its value are missing")
        changed = self.now
        named = [replace(one.given, sign=spelt(one.sign)) for one in self.movables]
        for given, value in read_values([text], named).items():
            one = there[given.key]
            if not one.span.holds(value):
                low, high = (one.at(self.now, end) for end in (one.span.low, one.span.high))
                raise OwnError(f"{sign_of(one.sign)} may be from {low} to {high}")
            changed = changed.with_given(one.key, value)
        self.now = changed

    def set_back(self, movable: Movable) -> None:
        """Give a given its own value again."""
        self.now = self.now.with_given(movable.key, self.own.exact[movable.key])

    def set_all_back(self) -> None:
        """Give every given its own value again."""
        self.now = self.own

    def is_moved(self, movable: Movable) -> bool:
        """Return whether a given has another value than its own."""
        return self.now.exact[movable.key] != self.own.exact[movable.key]

    def next_prediction(self) -> Prediction | None:
        """Return the next question, from the problem's own numbers; after the last the first."""
        if not self.predictions:
            return None
        self.set_all_back()
        asked = self.predictions[self._asked % len(self.predictions)]
        self._asked += 1
        return asked

    def show(self, prediction: Prediction) -> None:
        """Make the change of a prediction, and draw its result over the given that changes."""
        self.over = prediction.movable
        self.now = self.own.with_given(prediction.movable.key, prediction.to)
        drawn = [prediction.result in panel for panel in self.panels]
        self.panel = drawn.index(True)

    def turn_panel(self) -> None:
        """Draw the results of the next unit; after the last those of the first."""
        self.panel = (self.panel + 1) % len(self.panels)

    @cached_property
    def panels(self) -> tuple[tuple[Result, ...], ...]:
        """Return the results that can be drawn together."""
        return panels(self.results)

    @cached_property
    def predictions(self) -> tuple[Prediction, ...]:
        """Return what can be asked, from the problem's own numbers."""
        return predictions(self.own)

    @property
    def values(self) -> Values | None:
        """Return what follows from the numbers as they stand; None without equilibrium."""
        return values_of(self.now)

    @property
    def trouble(self) -> str:
        """Return in a sentence why nothing follows from the numbers, "" where something does."""
        reason = self.now.trouble
        return f"There is no equilibrium with these numbers: {reason}." if reason else ""

    @cached_property
    def own_values(self) -> Values | None:
        """Return what follows from the problem's own numbers."""
        return values_of(self.own)

    @property
    def sweep(self) -> Sweep:
        """Return what follows over the given on the axis; made anew where another one moved."""
        kept, key = self._swept, self.over.key
        if kept is not None and kept[1] is self.over:
            before = kept[0].exact
            if all(self.now.exact[other] == before[other] for other in before if other != key):
                return kept[2]
        found = sweep(self.now, self.over)
        self._swept = (self.now, self.over, found)
        return found

    def plot(self, width: int, height: int, unicode: bool = True) -> Plot:
        """Draw the panel on a grid of cells."""
        key, shown = self.over.key, self.panels[self.panel]
        now = PlotPoint(self.now.exact[key], self.values)
        own = PlotPoint(self.own.exact[key], self.own_values)
        return plot(self.sweep, shown, now, own, width, height, unicode)

    def svg(self, width: int, height: int) -> str:
        """Return the panel as an SVG picture, with its notes and the caution below."""
        drawn, question = self.plot(width, height), self.own
        labels, row = list(drawn.labels), height
        title = f"{question.problem.title}, numbers {question.seed}: {self._title()}."
        for note in (title, *self.notes(drawn), CAUTION):
            for line in wrap(note, width):
                labels.append(Label("note", line, row, 0))
                row += 1
        return svg(width, range(row), drawn.strokes, labels, title)

    def _title(self) -> str:
        signs = " and ".join(result.sign for result in self.panels[self.panel])
        return f"{signs} over {self.over.sign}, {self.over.name}"

    def notes(self, drawn: Plot) -> Iterator[str]:
        """Yield what must be said of a plot: what its marks mean, and where it ends and why."""
        yield from drawn.notes
        yield from limits(self.now, self.sweep)
        shown = self.panels[self.panel]
        yield from off_scale(self.now, self.sweep, shown, drawn.frame.up)


def _first(there: tuple[Movable, ...]) -> Movable:
    """Return what is on the axis at first: how far out a load acts, else how large it is."""
    parts = ("load arm", "size", "own arm", "far end", "angle")
    return min(there, key=lambda one: parts.index(one.part) if one.part in parts else len(parts))
