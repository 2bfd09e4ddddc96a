"""What records came to when they were judged last, so that only new ones are judged again.

Nothing rests on it: where a record, a problem, a slip or the code has changed since, or
where it can't be read, all is judged anew.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from contextlib import suppress
from dataclasses import asdict
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from leverstep.course.cards import Card, stamp_of, stamp_of_all
from leverstep.course.places import put_by
from leverstep.course.plain_files import read_text
from leverstep.course.shelf import Shelf
from leverstep.progress.replay import PractisedEntry, PractisedPicture, Worked
from leverstep.slips.catalogue import Catalogue
from leverstep.slips.picture_slips import PictureSlip

LARGEST_STORE = 50_000_000
"""Bytes; a working is one or two thousand."""

_MADE_BY_ANOTHER_HAND = (
    AttributeError, IndexError, KeyError, OSError, OverflowError, TypeError, ValueError,
)  # fmt: skip
"""What reading something may raise that was not written here."""

_NUMBERS = ("difficulty", "lever_class")
"""What is a number on a card; all else is text."""

Made = tuple[Worked, ...] | None
"""The workings of a record, None where it can't be used."""


class Store:
    """What came of each record, and which slips each problem allows, in a file of the user's data.

    Reasons of slips stand there as the id of a slip that has it; sets of them, of which there are
    few, once each. Used in a `with` it is saved at its end, however that comes.
    """

    def __init__(self, shelf: Shelf, catalogue: Catalogue, data: Path) -> None:
        self._place = data / "progress.json"
        self._cards = {card.id: card for card in shelf.cards}
        self._slips = catalogue.slips
        self._id_of = {slip.reason: slip.id for slip in catalogue.slips.values()}
        self._sources = _stamp_of_sources(shelf, catalogue)
        kept = self._read()
        self._records: dict[str, Any] = _table(kept, "records")
        self._reasons: dict[str, Any] = _table(kept, "reasons")
        sets = kept.get("sets")
        self._sets: list[Any] = sets if isinstance(sets, list) else []
        self._places: dict[frozenset[str], int] = {}
        self._read_sets: dict[int, frozenset[str]] = {}
        self._used: set[str] = set()
        self._changed = False

    def __enter__(self) -> Store:
        return self

    def __exit__(self, *_: object) -> None:
        self.save()

    def workings(self, path: Path, judge: Callable[[], Made]) -> Made:
        """Return what a record came to, as it is kept, or else as it is judged now."""
        name, stamp = str(path), stamp_of(path)
        self._used.add(name)
        with suppress(*_MADE_BY_ANOTHER_HAND):
            kept = self._records[name]
            if stamp and kept["stamp"] == stamp:
                return None if kept["made"] is None else tuple(map(self._worked, kept["made"]))
        made = judge()
        written = None if made is None else [self._written(one) for one in made]
        self._records[name] = {"stamp": stamp, "made": written}
        self._changed = True
        return made

    def reasons(self, card: Card, find: Callable[[], frozenset[str]]) -> frozenset[str]:
        """Return the reasons of all slips that a problem allows, as kept or else as found now."""
        with suppress(*_MADE_BY_ANOTHER_HAND):
            return self._set(self._reasons[card.id])
        found = find()
        self._reasons[card.id] = self._place_of(found)
        self._changed = True
        return found

    def save(self) -> None:
        """Keep it for the next time, where that can be written."""
        if not self._changed:
            return
        records = {name: made for name, made in self._records.items() if name in self._used}
        written = json.dumps(
            {
                "sources": self._sources,
                "sets": self._sets,
                "reasons": self._reasons,
                "records": records,
            }
        )
        put_by(self._place, written)
        self._changed = False

    def _read(self) -> dict[str, Any]:
        with suppress(OSError, ValueError, RecursionError):
            kept = json.loads(read_text(self._place, LARGEST_STORE))
            if isinstance(kept, dict) and kept.get("sources") == self._sources:
                return kept
        return {}

    def _written(self, worked: Worked) -> dict[str, Any]:
        """Return a working as it is kept; a card of the shelf by its id alone."""
        on_shelf = self._cards.get(worked.card.id) == worked.card
        return {
            "card": worked.card.id if on_shelf else asdict(worked.card),
            "finished": worked.finished,
            "entries": [
                [
                    one.time.isoformat(), one.step, one.first, one.right,
                    self._place_of(one.could), [slip.id for slip in one.made],
                ]
                for one in worked.entries
            ],
            "drawn": [[one.time.isoformat(), list(one.slips)] for one in worked.drawn],
            "read_whole": worked.read_whole,
        }  # fmt: skip

    def _worked(self, kept: dict[str, Any]) -> Worked:
        card = kept["card"]
        found = self._cards[card] if isinstance(card, str) else _card(card)
        entries = tuple(map(self._entry, kept["entries"]))
        drawn = tuple(map(_picture, kept["drawn"]))
        is_read = bool(kept["read_whole"])
        if not (entries or drawn or is_read):
            raise ValueError("no working")
        return Worked(found, bool(kept["finished"]), entries, drawn, is_read)

    def _entry(self, kept: list[Any]) -> PractisedEntry:
        time, step, first, right, could, made = kept
        when = datetime.fromisoformat(time).astimezone(UTC)
        slips = tuple(self._slips[ident] for ident in made)
        return PractisedEntry(when, str(step), bool(first), bool(right), self._set(could), slips)

    def _set(self, place: int) -> frozenset[str]:
        """Return the reasons that stand at a place."""
        if place not in self._read_sets:
            ids = self._sets[place]
            self._read_sets[place] = frozenset(self._slips[ident].reason for ident in ids)
        return self._read_sets[place]

    def _place_of(self, reasons: frozenset[str]) -> int:
        """Return where some reasons stand; put them there where they do not yet."""
        if reasons not in self._places:
            self._places[reasons] = len(self._sets)
            self._sets.append(sorted(self._id_of[reason] for reason in reasons))
        return self._places[reasons]


def _picture(kept: list[Any]) -> PractisedPicture:
    time, slips = kept
    when = datetime.fromisoformat(time).astimezone(UTC)
    return PractisedPicture(when, tuple(map(PictureSlip, slips)))


def _table(kept: dict[str, Any], key: str) -> dict[str, Any]:
    found = kept.get(key)
    return found if isinstance(found, dict) else {}


def _card(kept: dict[str, Any]) -> Card:
    """Return a card that is not of the shelf.

    Raises:
        ValueError: where it holds what no card does.
    """
    card = Card(**kept)
    shown = [value for name, value in asdict(card).items() if name not in _NUMBERS]
    if type(card.difficulty) is not int or not all(isinstance(s, str) for s in shown):
        raise ValueError("no card")
    if not all(text.isprintable() for text in shown):
        raise ValueError("no card")
    return card


def _stamp_of_sources(shelf: Shelf, catalogue: Catalogue) -> str:
    """Return what changes with all that verdicts rest on, beside the records."""
    code = Path(__file__).resolve().parent.parent
    problems = [Path(card.path) for card in shelf.cards if card.path]
    return stamp_of_all([code], [*catalogue.files, *problems])
