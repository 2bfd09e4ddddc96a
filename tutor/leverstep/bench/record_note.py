"""A note beside a record: how far it came, what is half typed, whether it is off the list.

It is no part of the record, and nothing rests on it: no line of it is judged, marked or counted.
Where it can't be written or read, nothing but itself is lost.
"""

from __future__ import annotations

import json
import threading
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Any

from leverstep.course.places import home, put_by
from leverstep.course.plain_files import read_text
from leverstep.course.plain_text import plain

LONGEST_TYPED = 200
"""Characters of one text; no line of a working may be as long."""

MOST_TYPED = 300
"""So many texts of one record are kept: a page has fewer lines."""

LARGEST_NOTE = 500_000
"""Bytes that are read of a note."""

_MOST = 10_000
"""Neither lines of a working nor tasks of a drill are as many."""


@dataclass(frozen=True, slots=True)
class HalfTyped:
    """A text that was typed and not entered.

    `step` is the key of the line that it was typed at, "" where any line might be written; `task`
    is the place of the task in a drill, from 0.
    """

    text: str
    step: str = ""
    task: int = 0


@dataclass(frozen=True, slots=True)
class NoteText:
    """What a note says.

    `done` of `asked` lines are done, None where that is not known; `hidden` is whether the working
    was taken off the list; `typed` is what is half typed.
    """

    done: int | None = None
    asked: int | None = None
    hidden: bool = False
    typed: tuple[HalfTyped, ...] = ()


NOTHING_NOTED = NoteText()
"""What a note says that is not there."""


class RecordNote:
    """The note of one record. Several threads may write it."""

    def __init__(self, record: Path) -> None:
        """Read the note of a record at a path, which is known by its name wherever it lies."""
        self._place = home() / "notes" / f"{record.name}.json"
        self._writing = threading.Lock()
        self._noted = _read(self._place)

    @property
    def noted(self) -> NoteText:
        """Return what the note says."""
        return self._noted

    def keep_far(self, done: int | None, asked: int | None) -> None:
        """Note how many lines are done, of all that are asked for; None at the end."""
        with self._writing:
            self._put(replace(self._noted, done=done, asked=asked))

    def keep_typed(self, typed: Iterable[HalfTyped]) -> None:
        """Note all that is half typed."""
        with self._writing:
            self._put(replace(self._noted, typed=tuple(typed)[:MOST_TYPED]))

    def hide(self, hidden: bool) -> None:
        """Take the working off the list, or put it back."""
        with self._writing:
            self._put(replace(self._noted, hidden=hidden))

    def _put(self, noted: NoteText) -> None:
        """Write what is to be said; a note that would say nothing goes."""
        if noted == self._noted:
            return
        self._noted = noted
        if noted == NOTHING_NOTED:
            with suppress(OSError):
                self._place.unlink()
        else:
            put_by(self._place, json.dumps(asdict(noted)), waits=False)


def _read(place: Path) -> NoteText:
    """Return what stands in a note, as far as it makes sense."""
    try:
        kept = json.loads(read_text(place, LARGEST_NOTE))
    except (OSError, ValueError, RecursionError):
        return NOTHING_NOTED
    if not isinstance(kept, dict):
        return NOTHING_NOTED
    done, asked = _count(kept.get("done")), _count(kept.get("asked"))
    if done is None or asked is None or done > asked:
        done = asked = None
    typed = kept.get("typed")
    texts = typed[:MOST_TYPED] if isinstance(typed, list) else []
    found = tuple(one for one in map(_half_typed, texts) if one is not None)
    return NoteText(done, asked, kept.get("hidden") is True, found)


def _half_typed(kept: Any) -> HalfTyped | None:
    """Return a text that is half typed, fit to be put into a field; None for what is none."""
    if not isinstance(kept, dict):
        return None
    text, step, task = kept.get("text"), kept.get("step", ""), _count(kept.get("task", 0))
    if not isinstance(text, str) or not isinstance(step, str) or task is None or not text.strip():
        return None
    return HalfTyped(plain(text.expandtabs(1))[:LONGEST_TYPED], step, task)


def _count(value: object) -> int | None:
    if not isinstance(value, int) or isinstance(value, bool):
        return None
    return value if 0 <= value <= _MOST else None
