"""What the home screen lists: workings to go on with, then problems by joint and level."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from textual.content import Content
from textual.widgets.option_list import Option

from leverstep.course.cards import Card
from leverstep.course.faults import Fault
from leverstep.course.listing import joint_name
from leverstep.course.phrases import counted
from leverstep.course.shelf import Shelf
from leverstep.faces.openings import DEGREES, LED, Opening
from leverstep.working.guidance import Guidance

if TYPE_CHECKING:
    from leverstep.bench.kept_workings import Unfinished

ALL = "all"
_MOST_UNFINISHED = 5
_CLASSES = {1: "first", 2: "second", 3: "third", None: "none"}

SORTS: dict[str, Callable[[Card], str]] = {
    "joint": lambda card: card.joint,
    "level": lambda card: str(card.difficulty),
    "class": lambda card: _CLASSES[card.lever_class],
    "units": lambda card: card.units,
    "asks": lambda card: card.asks,
}
"""What the list can be narrowed by, and what each problem is in that respect."""


class Choices:
    """The list and what it is narrowed to."""

    def __init__(self, shelf: Shelf) -> None:
        self._shelf = shelf
        self._unfinished: tuple[Unfinished, ...] = ()
        self.narrowed: dict[str, str] = {}
        self.guidance = Guidance.LINES

    def take(self, workings: tuple[Unfinished, ...]) -> bool:
        """Take the workings to go on with; return whether they are others than before."""
        changed = workings != self._unfinished
        self._unfinished = workings
        return changed

    def show_all(self) -> None:
        """Narrow the list no more."""
        self.narrowed.clear()

    def narrow(self, sort: str) -> None:
        """Narrow the list to the next value of one of the `SORTS`, after the last to none."""
        values = [ALL, *sorted({SORTS[sort](card) for card in self._shelf.cards})]
        place = values.index(self.narrowed.get(sort, ALL)) + 1
        self.narrowed[sort] = values[place % len(values)]

    @property
    def shown(self) -> str:
        """Return what the list is narrowed to."""
        parts = [f"{sort.capitalize()}: {self.narrowed.get(sort, ALL)}" for sort in SORTS]
        return "   ".join(parts)

    def guide(self) -> None:
        """Go to the next degree of guidance, after the last to the first."""
        degrees = list(Guidance)
        self.guidance = degrees[(degrees.index(self.guidance) + 1) % len(degrees)]

    @property
    def led(self) -> str:
        """Return how far the student is led in a working that is opened next."""
        return f"Guidance: {DEGREES[self.guidance]} ({LED[self.guidance]}) · F5"

    def _fits(self, card: Card) -> bool:
        return all(v in (ALL, SORTS[sort](card)) for sort, v in self.narrowed.items())

    def options(self) -> list[Option]:
        """Return the lines of the list, headings among them."""
        listed: list[Option] = []
        if self._unfinished:
            listed.append(_heading("Go on with"))
        for place, one in enumerate(self._unfinished[:_MOST_UNFINISHED]):
            listed.append(Option(_unfinished(one), id=f"go-on:{place}"))
        joint = ""
        for card in self._shelf.cards:
            if not self._fits(card):
                continue
            if card.joint != joint:
                joint = card.joint
                listed.append(_heading(joint_name(joint)))
            listed.append(Option(_problem(card, card.id in self._shelf.own), id=card.id))
        return listed or [_heading("No problem matches; press Esc to show all")]

    def measurable(self, ident: str) -> str:
        """Return which numbers of the own body a line takes, for the field they are typed in."""
        card = next((card for card in self._shelf.cards if card.id == ident), None)
        return card.measurable if card and card.measurable else "none for this problem"

    def opening(self, ident: str, seed: str, own: str) -> Opening:
        """Return what a chosen line opens; the file of its problem is read for that.

        Raises:
            FileError: where that file was broken since the list was made.
        """
        kind, _, place = ident.partition(":")
        if kind == "go-on":
            one = self._unfinished[int(place)]
            return Opening(one.problem, one.seed, one.path)
        problem = self._shelf.problems[ident]
        measured = (own,) if own and problem.own else ()
        return Opening(problem, seed, own=measured, guidance=self.guidance)


def _heading(text: str) -> Option:
    return Option(Content.styled(text, "$primary bold"), disabled=True)


def _problem(card: Card, own: bool) -> Content:
    told = f"{card.units}{', your own' if own else ''}"
    units = Content.styled(told, "$quiet")
    return Content.assemble(f"  {card.title:<44.44}  level {card.difficulty}   ", units)


def _unfinished(one: Unfinished) -> Content:
    told = Content.styled(f"numbers {one.seed}", "$quiet")
    far = counted(one.entries, "entry", "entries")
    return Content.assemble(f"  {one.problem.title:<44.44}  {far:<11} ", told)


def faults_line(faults: Sequence[Fault]) -> str:
    """Return one line about files that could not be read; "" where there are none."""
    files = list(dict.fromkeys(fault.file for fault in faults))
    if not files:
        return ""
    named = ", ".join(files[:2]) + (" …" if len(files) > 2 else "")
    are = counted(len(files), "problem file is", "problem files are")
    return f"{are} left out ({named}): `leverstep problems` says why."
