"""Where to go on from a working that has ended: another kind of problem, or one for a slip."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from leverstep.course.cards import Card
from leverstep.course.course_words import CourseWords
from leverstep.course.places import home
from leverstep.course.shelf import Shelf
from leverstep.progress.history import History, read_history
from leverstep.progress.review import slip_figures
from leverstep.progress.store import Store
from leverstep.progress.suggestions import Allowed, Chooser, allowed_by, suggestions
from leverstep.slips.catalogue import Catalogue, Slip


@dataclass(frozen=True, slots=True)
class WayOn:
    """A problem to go on with, in a few words what for, and the words of its course."""

    card: Card
    why: str
    words: CourseWords

    @property
    def told(self) -> str:
        """Return problem and reason: `A pail of water (Elbow, level 1), at the same joint`."""
        return f"{self.words.placed(self.card)}, {self.why}"


@dataclass(frozen=True, slots=True)
class WaysOn:
    """The ways on from a working: to another kind, and to one for a slip, None where none is."""

    another: WayOn | None
    for_slip: WayOn | None


def read_ways_on(
    done: Card,
    slips: Sequence[Slip],
    material: tuple[Shelf, Catalogue],
    now: datetime,
    data: Path | None = None,
) -> WaysOn:
    """Return the ways on from a working, by all that was practised.

    Args:
        done: what was worked.
        slips: those that were made in it, the one to be met again first.
        material: the problems there are, and the slips that are looked for.
        now: what counts as now, with its time zone.
        data: the folder of the records, the user's data folder unless given.
    """
    shelf, catalogue = material
    data = data or home()
    with Store(shelf, catalogue, data) as store:
        history = read_history(shelf, catalogue, now, store, data)
        allowed = allowed_by(store, shelf, catalogue)
        return ways_on(done, slips, history, shelf, allowed, now.date())


def ways_on(
    done: Card,
    slips: Sequence[Slip],
    history: History,
    shelf: Shelf,
    allowed: Allowed,
    today: date,
) -> WaysOn:
    """Return the ways on that a history tells; `allowed` gives the slips of a problem.

    Another kind is a problem in which a slip of an earlier day is due; else one not worked yet: at
    the same joint and no easier, or of the same level elsewhere; else the one worked longest ago.
    """
    chooser = Chooser(history, shelf, allowed)
    due = suggestions(history, slip_figures(history), shelf, allowed, today)
    another = next((one for one in due if one.slips and one.card.id != done.id), None)
    if another is not None:
        names = ", ".join(slip.name for slip in another.slips)
        why = f"for a slip that is due: {names}"
        following: WayOn | None = WayOn(another.card, why, shelf.words)
    else:
        card = chooser.another(done)
        why = "" if card is None else _why(card, done, chooser)
        following = None if card is None else WayOn(card, why, shelf.words)
    return WaysOn(following, _for_slip(done, slips, chooser, shelf.words))


def _why(card: Card, done: Card, chooser: Chooser) -> str:
    """Return what another problem is chosen for."""
    if chooser.is_worked(card):
        return "not worked for the longest time"
    if card.joint != done.joint:
        return "not worked yet, at another joint"
    return "harder, at the same joint" if card.difficulty > done.difficulty else "at the same joint"


def _for_slip(
    done: Card, slips: Iterable[Slip], chooser: Chooser, words: CourseWords
) -> WayOn | None:
    """Return another problem for the first of some slips that can be made in one."""
    for slip in slips:
        card = chooser.nearest(slip.reason, done.difficulty, done.id)
        if card is not None and card.id != done.id:
            return WayOn(card, f"for the slip: {slip.name}", words)
    return None
