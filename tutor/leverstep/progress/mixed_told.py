"""A mixed set begun and ended: drawn from the records, and at its end told by them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import partial
from pathlib import Path

from leverstep.course.cards import Card
from leverstep.course.course_words import CourseWords
from leverstep.course.phrases import counted
from leverstep.course.places import home
from leverstep.course.shelf import Shelf
from leverstep.progress.history import History, history_kept, read_history
from leverstep.progress.mixed_drawing import count_of_lines, draw
from leverstep.progress.mixed_set import MixedSet
from leverstep.progress.onward import WayOn
from leverstep.progress.review import SHARE, AmountWorked, amount_of
from leverstep.progress.store import Store
from leverstep.progress.suggestions import Chooser, allowed_by
from leverstep.slips.catalogue import Catalogue
from leverstep.working.guidance import Guidance

_ANOTHER = "Next: another mixed set brings other kinds, and these again with other numbers."


@dataclass(frozen=True, slots=True)
class SetResult:
    """A problem of a set, and how much of it was worked; `worked.begun` is 0 for nothing."""

    card: Card
    worked: AmountWorked
    words: CourseWords

    @property
    def kind(self) -> str:
        """Return what kind of problem it is, in words."""
        return self.words.kind(self.card.asks)

    @property
    def is_well(self) -> bool:
        """Return whether it came to its end, and most lines were right first time."""
        return self.worked.finished > 0 and self.worked.share >= SHARE

    @property
    def told(self) -> str:
        """Return kind and figures: `centre of mass, 3 of 4 lines right first time`."""
        lines = counted(self.worked.lines, "line")
        return f"{self.kind}, {self.worked.right} of {lines} right first time"


def draw_set(
    shelf: Shelf,
    catalogue: Catalogue,
    now: datetime,
    count: int,
    guidance: Guidance = Guidance.LINES,
    data: Path | None = None,
) -> MixedSet:
    """Return a new set, by the records there are.

    Args:
        shelf: the problems there are.
        catalogue: the slips that are looked for.
        now: what counts as now, with its time zone.
        count: how many problems are wanted.
        guidance: how far the student is led.
        data: the folder of the records, the user's data folder unless given.
    """
    with Store(shelf, catalogue, data or home()) as store:
        history = read_history(shelf, catalogue, now, store, data)
        allowed = allowed_by(store, shelf, catalogue)
        lines = partial(count_of_lines, shelf=shelf, guidance=guidance)
        problems = draw(history, shelf, allowed, lines, now.date(), count)
    return MixedSet(now.astimezone(UTC), guidance, problems)


def read_set_end(
    mixed: MixedSet, shelf: Shelf, catalogue: Catalogue, now: datetime, data: Path | None = None
) -> tuple[str, ...]:
    """Return in a few lines how a set went, by the records there are."""
    return tuple(set_end_told(mixed, history_kept(shelf, catalogue, now, data), shelf))


def next_way(mixed: MixedSet, shelf: Shelf) -> WayOn | None:
    """Return the way on from the problem at hand to the next one, None from the last."""
    following = mixed.passed().at_hand
    cards = (card for card in shelf.cards if following and card.id == following.ident)
    why = "the next of your mixed set"
    return next((WayOn(card, why, shelf.words) for card in cards), None)


def set_results(mixed: MixedSet, history: History, shelf: Shelf) -> tuple[SetResult, ...]:
    """Return how each problem of a set went, by its last working since the set was begun."""
    cards = {card.id: card for card in shelf.cards}
    since = [one for one in history.workings if one.entries[0].time >= mixed.begun]
    found = []
    for one in mixed.problems:
        last = [working for working in since if working.card.id == one.ident][-1:]
        found.append(SetResult(cards[one.ident], amount_of(last), shelf.words))
    return tuple(found)


def set_end_told(mixed: MixedSet, history: History, shelf: Shelf) -> Iterator[str]:
    """Yield how a set went: all of it, kinds that went well, those that did not, what is next."""
    results = set_results(mixed, history, shelf)
    worked = [one for one in results if one.worked.begun]
    ended = sum(one.worked.finished for one in results)
    lines, right = (sum(getattr(o.worked, w) for o in results) for w in ("lines", "right"))
    yield (
        f"Your mixed set: {ended} of {counted(len(results), 'problem')} worked to the end"
        + (f", {right} of {counted(lines, 'line')} right first time." if lines else ".")
    )
    yield from _named("Went well", [one.told for one in worked if one.is_well])
    yield from _named("Not yet", [_not_yet(one) for one in worked if not one.is_well])
    yield from _named("Not worked", [one.kind for one in results if not one.worked.begun])
    yield _next(results, history, shelf)


def _not_yet(one: SetResult) -> str:
    return one.told if one.worked.finished else f"{one.told}, not to the end"


def _named(heading: str, told: Sequence[str]) -> Iterator[str]:
    if told:
        yield f"{heading}: {'; '.join(told)}."


def _next(results: Iterable[SetResult], history: History, shelf: Shelf) -> str:
    """Return what comes next: another problem of the kind that went least well."""
    behind = [one for one in results if not one.is_well]
    if not behind:
        return _ANOTHER
    weakest = min(behind, key=lambda one: one.worked.share).card
    chooser = Chooser(history, shelf, lambda _: frozenset())
    of_kind = [c for c in shelf.offered if c.asks == weakest.asks and c.id != weakest.id]
    card = min(
        of_kind,
        key=lambda one: (*chooser.age(one), abs(one.difficulty - weakest.difficulty)),
        default=weakest,
    )
    why = f"for more of this kind: {shelf.words.kind(card.asks)}"
    way = WayOn(card, why, shelf.words)
    return f"Next: {way.told}."
