"""What a student chose for practice, kept from one start to the next."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeVar

from leverstep.course.places import put_by_word, word_put_by
from leverstep.working.rules import Conversions, Pictures, Reasons, Thinking, Units

Choice = Reasons | Conversions | Units | Pictures
_C = TypeVar("_C", Reasons, Conversions, Units, Pictures)

_PLACES: dict[type[Choice], str] = {
    Reasons: "reasons",
    Conversions: "conversions",
    Units: "units",
    Pictures: "pictures",
}
"""What each choice is called where it is kept, and among the rules of a working."""

_THINKING = "thinking"
"""Where it is kept what is asked beside the lines: by words, with spaces between them."""


@dataclass(frozen=True, slots=True)
class PracticeChoices:
    """When slips are named, what is filled in, how numbers are taken, and who draws diagrams.

    `thinking` has what is asked beside the lines.
    """

    reasons: Reasons = Reasons.WHEN_ASKED
    conversions: Conversions = Conversions.ASKED
    units: Units = Units.ASKED
    pictures: Pictures = Pictures.GIVEN
    thinking: frozenset[Thinking] = frozenset()


def choices_kept() -> PracticeChoices:
    """Return what was chosen; what nobody starts with otherwise where nothing was, or is read."""
    usual = PracticeChoices()
    words = word_put_by(_THINKING).split()
    thinking = frozenset(one for one in Thinking if one in words)
    return PracticeChoices(
        _kept(usual.reasons),
        _kept(usual.conversions),
        _kept(usual.units),
        _kept(usual.pictures),
        thinking,
    )


def _kept(usual: _C) -> _C:
    try:
        return type(usual)(word_put_by(_PLACES[type(usual)]))
    except ValueError:
        return usual


def keep_choice(choice: Choice) -> None:
    """Keep a choice for the next start; where nothing can be written, it is for this time only."""
    put_by_word(_PLACES[type(choice)], choice)


def keep_thinking(thinking: frozenset[Thinking]) -> None:
    """Keep what is to be asked beside the lines, as `keep_choice` does."""
    put_by_word(_THINKING, " ".join(one for one in Thinking if one in thinking))


def rule_of(choice: Choice) -> str:
    """Return the name of the rule of a working that a choice is about."""
    return _PLACES[type(choice)]
