"""The whole of one's own progress, as every face shows it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from leverstep.course.course_words import USUAL_WORDS, CourseWords
from leverstep.course.places import home
from leverstep.course.shelf import Shelf
from leverstep.progress.history import History, Told, read_history, tell_nobody
from leverstep.progress.review import (
    AmountWorked,
    DrawnSlip,
    SlipFigures,
    amount,
    by_joint,
    by_kind,
    drawn_slips,
    slip_figures,
)
from leverstep.progress.store import Store
from leverstep.progress.suggestions import Allowed, Suggestion, allowed_by, suggestions
from leverstep.slips.catalogue import Catalogue


@dataclass(frozen=True, slots=True)
class Progress:
    """What was practised up to a day, the slips that were made, and what to practise next.

    `joints` is how much was worked of each joint, `kinds` of each kind of problem, `unusable` how
    many records could not be used. `drawn` are the slips made in free-body diagrams, `words`
    those of the course.
    """

    today: date
    amount: AmountWorked
    joints: tuple[tuple[str, AmountWorked], ...]
    kinds: tuple[tuple[str, AmountWorked], ...]
    slips: tuple[SlipFigures, ...]
    next: tuple[Suggestion, ...]
    unusable: int
    drawn: tuple[DrawnSlip, ...] = ()
    words: CourseWords = USUAL_WORDS


def read_progress(
    shelf: Shelf,
    catalogue: Catalogue,
    now: datetime,
    data: Path | None = None,
    told: Told = tell_nobody,
) -> Progress:
    """Return the progress that the records of practice and drills in a folder tell.

    Args:
        shelf: the problems there are.
        catalogue: the slips that are looked for.
        now: what counts as now, with its time zone.
        data: the folder, the user's data folder unless given.
        told: is told how far the reading is; what it raises ends it.
    """
    data = data or home()
    with Store(shelf, catalogue, data) as store:
        history = read_history(shelf, catalogue, now, store, data, told)
        return progress_of(history, shelf, catalogue, now, allowed_by(store, shelf, catalogue))


def progress_of(
    history: History, shelf: Shelf, catalogue: Catalogue, now: datetime, allowed: Allowed
) -> Progress:
    """Return the progress that a history tells; `allowed` gives the slips of a problem."""
    slips, today = slip_figures(history), now.date()
    return Progress(
        today,
        amount(history),
        tuple(by_joint(history)),
        tuple(by_kind(history)),
        slips,
        suggestions(history, slips, shelf, allowed, today),
        history.unusable,
        drawn_slips(history, catalogue),
        shelf.words,
    )
