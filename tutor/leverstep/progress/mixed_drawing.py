"""Which problems make a mixed set: reviews that are due, then the kinds most likely to go wrong."""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Callable, Iterable
from datetime import date
from fractions import Fraction
from functools import cache, partial
from itertools import groupby

from leverstep.course.cards import Card
from leverstep.course.faults import FileError
from leverstep.course.problem import SAMPLE
from leverstep.course.shelf import Shelf
from leverstep.drill.mixed_items import SHORT
from leverstep.progress.history import History
from leverstep.progress.mixed_set import SetProblem
from leverstep.progress.review import amount, slip_figures
from leverstep.progress.suggestions import Allowed, Chooser, due_slips
from leverstep.working.guidance import Guidance
from leverstep.working.working import Working

Lines = Callable[[Card], int]
"""Gives how many lines a problem asks for, 0 for one that can't be worked."""


def draw(
    history: History, shelf: Shelf, allowed: Allowed, lines: Lines, today: date, count: int
) -> tuple[SetProblem, ...]:
    """Return the problems of a mixed set in their order, the same for the same history and day.

    Args:
        history: all that was practised.
        shelf: the problems there are.
        allowed: gives the slips of a problem.
        lines: gives the lines of a problem.
        today: the day that reviews are due on, and that numbers follow from.
        count: how many problems are wanted; fewer where the shelf has no more.
    """
    drawing = _SetDrawing(history, shelf, allowed, lines, today)
    while len(drawing.drawn) < count and drawing.draw():
        pass
    return tuple(SetProblem(card.id, drawing.seed(card)) for card in drawing.drawn)


def count_of_lines(card: Card, shelf: Shelf, guidance: Guidance) -> int:
    """Return how many lines a problem asks for, 0 for one that can't be worked."""
    try:
        return len(Working(shelf.problems[card.id].question(SAMPLE), guidance).asked)
    except (FileError, ValueError, ArithmeticError):
        return 0


class _SetDrawing:
    """A set as it is drawn, one problem after the other."""

    def __init__(
        self, history: History, shelf: Shelf, allowed: Allowed, lines: Lines, today: date
    ) -> None:
        self.drawn: list[Card] = []
        self._allowed = allowed
        self._lines = cache(lines)
        self._history = history
        self._day = f"{today.isoformat()} {len(history.workings)}"
        self._chooser = Chooser(history, shelf, allowed)
        self._due = due_slips(slip_figures(history), today)
        self._left = [card for card in shelf.offered if self._lines(card)]
        self._many = Counter(card.asks for card in self._left)
        done = [one.card.difficulty for one in history.workings if one.finished]
        self._level = done[-1] if done else 1

    def draw(self) -> bool:
        """Draw one more; return whether there was one."""
        card = self._for_review() or self._of_a_kind()
        if card is not None:
            self.drawn.append(card)
            self._left.remove(card)
        return card is not None

    def seed(self, card: Card) -> str:
        """Return what the numbers of a problem are drawn from."""
        return str(10_000 + self._lot(card) % 90_000)

    def _for_review(self) -> Card | None:
        """Return a problem for the most overdue slip that none of the set has; None for none."""
        for slip in self._due:
            if any(self._allows(slip.reason, card) for card in self.drawn):
                continue
            level = self._history.workings[slip.made[-1].working].card.difficulty
            found = self._best(self._open, level, partial(self._allows, slip.reason))
            if found is not None:
                return found
        return None

    def _allows(self, reason: str, card: Card) -> bool:
        return reason in self._allowed(card)

    def _of_a_kind(self) -> Card | None:
        """Return a problem of the kind that is most likely to go wrong; None where none is left."""
        there_are = {card.asks for card in self._open}
        first = min(
            there_are, key=lambda kind: (-self._risk(kind), -self._many[kind], kind), default=""
        )
        return self._best((card for card in self._open if card.asks == first), self._level)

    @property
    def _open(self) -> list[Card]:
        """Return the problems of the kinds that the set has least of."""
        times = Counter(card.asks for card in self.drawn)
        fewest = min((times[card.asks] for card in self._left), default=0)
        return [card for card in self._left if times[card.asks] == fewest]

    def _risk(self, kind: str) -> Fraction:
        """Return how likely a line of this kind is to go wrong, a half where none was written."""
        worked = amount(self._history, kind=kind)
        return Fraction(worked.lines - worked.right + 1, worked.lines + 2)

    def _best(
        self, cards: Iterable[Card], level: int, fits: Callable[[Card], bool] = lambda _: True
    ) -> Card | None:
        """Return the problem that suits a set best of those that fit; None where none does."""
        joints = {card.joint for card in self.drawn}

        def place(card: Card) -> tuple[bool, bool, bool, bool, int]:
            is_long = self._lines(card) > SHORT
            return (
                self._chooser.is_last(card), is_long, self._chooser.is_worked(card),
                card.joint in joints, abs(card.difficulty - level),
            )  # fmt: skip

        for _, equal in groupby(sorted(cards, key=place), place):
            if found := [card for card in equal if fits(card)]:
                return min(found, key=lambda card: (*self._chooser.age(card), self._lot(card)))
        return None

    def _lot(self, card: Card) -> int:
        """Return a number that is drawn by the day and by what was worked."""
        drawn = hashlib.sha256(f"{self._day} {card.id}".encode()).digest()
        return int.from_bytes(drawn[:8])
