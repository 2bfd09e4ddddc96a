"""The whole of one's own progress, as every face shows it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from tutor.course.shelf import Shelf
from tutor.progress.history import History, read_history
from tutor.progress.review import Amount, SlipFigures, amount, by_joint, slip_figures
from tutor.progress.suggestions import Suggestion, suggestions
from tutor.slips.catalogue import Catalogue, catalogue_in_use


@dataclass(frozen=True, slots=True)
class Progress:
    """What was practised up to a day, the slips that were made, and what to practise next.

    `joints` is how much was worked of each joint, `unusable` how many records could not be used.
    """

    today: date
    amount: Amount
    joints: tuple[tuple[str, Amount], ...]
    slips: tuple[SlipFigures, ...]
    next: tuple[Suggestion, ...]
    unusable: int


def read_progress(shelf: Shelf, now: datetime, folder: Path | None = None) -> Progress:
    """Return the progress that the records of practice in a folder (the user's data) tell.

    Args:
        shelf: the problems there are.
        now: what counts as now, with its time zone.
        folder: where the records lie.
    """
    return progress_of(read_history(shelf, now, folder), shelf, now, catalogue_in_use())


def progress_of(history: History, shelf: Shelf, now: datetime, catalogue: Catalogue) -> Progress:
    """Return the progress that a history tells."""
    slips, today = slip_figures(history), now.date()
    return Progress(
        today,
        amount(history),
        tuple(by_joint(history)),
        slips,
        suggestions(history, slips, shelf, catalogue, today),
        history.unusable,
    )
