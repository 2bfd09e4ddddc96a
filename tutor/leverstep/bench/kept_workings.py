"""The workings of practice that are kept: which can be gone on with, and which problems are done.

Entries are counted, not judged, so that this stays quick.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from leverstep.bench.practice import (
    PracticeOpened,
    is_ended,
    opened_practice,
    records_there_are,
)
from leverstep.bench.record import RecordError
from leverstep.bench.record_lines import AnswerLine, MendLine, RecordLine, Worked
from leverstep.bench.record_note import NOTHING_NOTED, NoteText, RecordNote
from leverstep.course.problem import Problem
from leverstep.course.shelf import Shelf

_NEVER = datetime.min.replace(tzinfo=UTC)


@dataclass(frozen=True, slots=True)
class Unfinished:
    """A practice that can be gone on with: where it lies, its question, and how far it came.

    `givens` is what was shown as given; `is_own` tells whether some of that was measured on the own
    body. `latest` is when it was last worked at, None where its record has no time.
    """

    path: Path
    problem: Problem
    seed: str
    entries: int
    latest: datetime | None = None
    givens: Mapping[str, str] | None = None
    is_own: bool = False
    noted: NoteText = NOTHING_NOTED


@dataclass(frozen=True, slots=True)
class KeptWorkings:
    """Those that can be gone on with, that worked at last first, and the ids of problems done.

    `hidden` are those that the student took off the list.
    """

    unfinished: tuple[Unfinished, ...] = ()
    hidden: tuple[Unfinished, ...] = ()
    done: frozenset[str] = frozenset()

    @property
    def is_empty(self) -> bool:
        """Return whether nothing was worked yet."""
        return not (self.unfinished or self.hidden or self.done)


def kept_workings(shelf: Shelf, folder: Path | None = None) -> KeptWorkings:
    """Return what is kept in a folder (the user's data folder).

    What has an entry, a thing in a diagram or a half-typed line but no end can be gone on with.
    """
    found: list[Unfinished] = []
    done: set[str] = set()
    for path in reversed(records_there_are(folder)):
        try:
            opened = opened_practice(path, shelf)
        except RecordError:
            continue
        if is_ended(opened.lines):
            done |= set() if _is_in_part(opened) else {opened.problem.id}
            continue
        worked = (Worked, AnswerLine) if _is_in_part(opened) else Worked
        entries, noted = sum(isinstance(o, worked) for o in opened.lines), RecordNote(path).noted
        if entries or noted.typed:
            latest, first = _latest(opened.lines), opened.first
            found.append(
                Unfinished(
                    path, opened.problem, opened.seed, entries, latest, first.givens,
                    bool(first.own), noted,
                )
            )  # fmt: skip
    found.sort(key=lambda one: one.latest or _NEVER, reverse=True)
    shown = tuple(one for one in found if not one.noted.hidden)
    return KeptWorkings(shown, tuple(o for o in found if o.noted.hidden), frozenset(done))


def unfinished(shelf: Shelf, folder: Path | None = None) -> list[Unfinished]:
    """Return those of the practices of a folder that are on the list, the latest first."""
    return list(kept_workings(shelf, folder).unfinished)


def _is_in_part(opened: PracticeOpened) -> bool:
    """Return whether a part of a working is another's, where answers are work too: one with a slip
    to find, or one whose first lines are shown.
    """
    return bool(opened.first.shown) or any(isinstance(one, MendLine) for one in opened.lines)


def _latest(lines: Sequence[RecordLine]) -> datetime | None:
    """Return when the last line was written that has a time, in UTC."""
    for line in reversed(lines):
        try:
            time = datetime.fromisoformat(line.time or "")
            return (time if time.tzinfo else time.replace(tzinfo=UTC)).astimezone(UTC)
        except (ValueError, OverflowError):
            continue
    return None
