"""Whether a student opens the program for the first time. Light: the first screen asks for it."""

from __future__ import annotations

from leverstep.course.places import home, put_by_word, word_put_by

_PLACE, _SEEN = "tour", "seen"


def is_first_start() -> bool:
    """Return whether nothing was practised yet, and the tour was neither seen nor skipped."""
    return word_put_by(_PLACE) != _SEEN and not any((home() / "practice").glob("*.jsonl"))


def note_tour() -> None:
    """Keep that the tour was shown, so that it comes by itself no more."""
    put_by_word(_PLACE, _SEEN)
