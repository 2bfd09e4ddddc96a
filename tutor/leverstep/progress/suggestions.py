"""What to practise next: slips whose review is due, each in a problem where it can be made."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime
from functools import partial

from leverstep.course.cards import Card
from leverstep.course.faults import FileError
from leverstep.course.problem import SAMPLE
from leverstep.course.shelf import Shelf
from leverstep.progress.history import History
from leverstep.progress.review import SlipFigures
from leverstep.progress.store import Store
from leverstep.slips.catalogue import Catalogue
from leverstep.slips.hypotheses import hypotheses

MOST_SUGGESTED = 4
"""More problems at once would be no suggestion; the others wait."""

Allowed = Callable[[Card], frozenset[str]]
"""Gives the reasons of all slips that can be made in a problem."""


@dataclass(frozen=True, slots=True)
class Suggestion:
    """A problem to work in new numbers, for slips that are due; for its own sake without any."""

    card: Card
    slips: tuple[SlipFigures, ...] = ()


def suggestions(
    history: History, slips: Iterable[SlipFigures], shelf: Shelf, allowed: Allowed, today: date
) -> tuple[Suggestion, ...]:
    """Return what to practise next: problems for the slips that are due, the most overdue first.

    Where none is due it is one problem: of a joint not practised yet, else the one worked longest
    ago. None where the shelf is empty.
    """
    chooser = Chooser(history, shelf, allowed)
    found: dict[Card, list[SlipFigures]] = {}
    for slip in due_slips(slips, today):
        card = chooser.problem_for(slip)
        if card is not None:
            found.setdefault(card, []).append(slip)
    due = [Suggestion(card, tuple(of_card)) for card, of_card in found.items()]
    return tuple(due[:MOST_SUGGESTED] or chooser.something_new())


def due_slips(slips: Iterable[SlipFigures], today: date) -> list[SlipFigures]:
    """Return the slips whose review is due, the most overdue first."""
    return sorted((slip for slip in slips if slip.due <= today), key=lambda slip: slip.due)


def slips_allowed(card: Card, shelf: Shelf, catalogue: Catalogue) -> frozenset[str]:
    """Return the reasons of all slips that can be made in a problem, none in a broken one."""
    try:
        derivation = shelf.problems[card.id].question(SAMPLE).derivation
        found = hypotheses(derivation, catalogue)
    except (FileError, ValueError, ArithmeticError):
        found = ()
    return frozenset(one.slip.reason for one in found)


def allowed_by(store: Store, shelf: Shelf, catalogue: Catalogue) -> Allowed:
    """Return what gives the slips of a problem, as a store has them."""
    return lambda card: store.reasons(card, partial(slips_allowed, card, shelf, catalogue))


class Chooser:
    """Chooses problems. What slips a problem allows is asked for only where it matters."""

    def __init__(self, history: History, shelf: Shelf, allowed: Allowed) -> None:
        self._history = history
        self._shelf = shelf
        self._allowed = allowed
        self._worked: dict[str, datetime] = {}
        for one in history.workings:
            last = one.entries[-1].time
            self._worked[one.card.id] = max(last, self._worked.get(one.card.id, last))
        self._last = max(self._worked, key=self._worked.__getitem__, default="")

    def problem_for(self, slip: SlipFigures) -> Card | None:
        """Return a problem in which a slip can be made; None where none on the shelf has it.

        It is as hard as the one where the slip was made last, and not the one worked last.
        """
        level = self._history.workings[slip.made[-1].working].card.difficulty
        return self.nearest(slip.reason, level, self._last)

    def nearest(self, reason: str, level: int, last: str) -> Card | None:
        """Return a problem in which a slip with this reason can be made; None where none has it.

        It is the nearest to a level of difficulty, of these one not worked for long; that with the
        id `last` only where there is no other.
        """
        ordered = sorted(
            self._shelf.offered,
            key=lambda card: (card.id == last, abs(card.difficulty - level), *self.age(card)),
        )
        return next((card for card in ordered if reason in self._allowed(card)), None)

    def another(self, done: Card) -> Card | None:
        """Return another problem than one that is done: one not worked, else worked longest ago.

        Of those not worked it is one of the same joint and no easier, else the nearest in
        difficulty; None where the shelf has no other.
        """

        def place(card: Card) -> tuple[object, ...]:
            is_onward = card.joint == done.joint and card.difficulty >= done.difficulty
            return (*self.age(card), not is_onward, abs(card.difficulty - done.difficulty))

        others = (card for card in self._shelf.offered if card.id != done.id)
        return min(others, key=place, default=None)

    def is_worked(self, card: Card) -> bool:
        """Return whether a problem was worked before."""
        return card.id in self._worked

    def is_last(self, card: Card) -> bool:
        """Return whether a problem is the one worked last."""
        return card.id == self._last

    def age(self, card: Card) -> tuple[bool, float]:
        """Return what puts a problem before those worked after it; one never worked comes first."""
        last = self._worked.get(card.id)
        return (last is not None, 0.0 if last is None else last.timestamp())

    def something_new(self) -> Iterator[Suggestion]:
        """Yield one problem: of a joint not practised, else not worked, else worked longest ago."""
        joints = {one.card.joint for one in self._history.workings}
        cards = sorted(
            self._shelf.offered,
            key=lambda card: (card.joint in joints, *self.age(card), card.difficulty),
        )
        yield from (Suggestion(card) for card in cards[:1])
