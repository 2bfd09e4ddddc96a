"""Workings that nobody worked, for what is made of a record of practice."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from functools import partial

from leverstep.course.shelf import Shelf, load_shelf
from leverstep.progress.replay import PractisedEntry, Worked
from leverstep.progress.review import Sign
from leverstep.progress.suggestions import Allowed, slips_allowed

from helpers.material import CATALOGUE

SHELF = load_shelf()
CARDS = {card.id: card for card in SHELF.cards}
SKIPPED = CATALOGUE.slips["conversion-skipped"]
NOW = datetime(2027, 3, 1, 12, tzinfo=UTC)


def worked(
    name: str, days_ago: int, *lines: tuple[str, Sign], slip: str = SKIPPED.id, hour: int = 9
) -> Worked:
    """Return a made-up working in which a slip could be made on every line."""
    slipped = CATALOGUE.slips[slip]
    begun = NOW.replace(hour=hour) - timedelta(days=days_ago)
    could = frozenset({slipped.reason})
    entries = (
        PractisedEntry(
            begun + timedelta(minutes=number),
            key,
            first=True,
            right=sign is Sign.RIGHT,
            could=could,
            made=(slipped,) if sign is Sign.MADE else (),
        )
        for number, (key, sign) in enumerate(lines)
    )
    return Worked(CARDS[name], True, tuple(entries))


def allowed(shelf: Shelf) -> Allowed:
    return partial(slips_allowed, shelf=shelf, catalogue=CATALOGUE)
