"""Which problems to give to those who need help: such as show whether a slip is still made."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from leverstep.course.cards import Card
from leverstep.course.faults import FileError
from leverstep.course.problem import SAMPLE
from leverstep.course.shelf import Shelf
from leverstep.drill.drill import Drill
from leverstep.reports.figures import Figures
from leverstep.reports.teacher import seen_first
from leverstep.slips.catalogue import Catalogue, Slip
from leverstep.slips.hypotheses import hypotheses

MOST_GIVEN = 3
"""Problems that are named for a slip."""

MOST_LOOKED_AT = 24
"""Problems that are looked at, so that nobody waits for a slip that few of them can show."""


def with_problems_to_give(figures: Figures, shelf: Shelf, catalogue: Catalogue) -> Figures:
    """Return figures with up to three problems for each slip to talk about, by the slip's name.

    None is of the drill; those at its joints come first, then the easiest.
    """
    talked = (one.most_made for one in seen_first(figures))
    slips = {one.reason: one.name for one in talked if isinstance(one, Slip)}
    found = _showing(slips, _in_order(figures.drill, shelf), shelf, catalogue)
    return replace(figures, give={name: found[reason] for reason, name in slips.items()})


def _in_order(drill: Drill, shelf: Shelf) -> Iterator[Card]:
    """Yield the cards to choose from, those to be given first before all others."""
    own = {problem.id: problem.joint for item in drill.items for problem in item.bank}
    others = (card for card in shelf.cards if card.id not in own and not card.retired)
    joints = set(own.values())
    yield from sorted(others, key=lambda card: (card.joint not in joints, card.difficulty, card.id))


def _showing(
    reasons: Iterable[str], cards: Iterator[Card], shelf: Shelf, catalogue: Catalogue
) -> Mapping[str, tuple[str, ...]]:
    """Return for each reason of a slip the first problems in which it can be made, by their ids."""
    found: dict[str, tuple[str, ...]] = dict.fromkeys(reasons, ())
    for _, card in zip(range(MOST_LOOKED_AT), cards, strict=False):
        wanting = {reason for reason, given in found.items() if len(given) < MOST_GIVEN}
        if not wanting:
            break
        try:
            derivation = shelf.problems[card.id].question(SAMPLE).derivation
        except (FileError, ValueError, ArithmeticError):  # one that can't be worked shows nothing
            continue
        shown = {one.slip.reason for one in hypotheses(derivation, catalogue)}
        for reason in wanting & shown:
            found[reason] += (card.id,)
    return found
