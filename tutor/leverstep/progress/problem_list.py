"""The problems as a student chooses from them: by week or joint, each with how it stands.

Every face lists these. Light, so that the first screen need not wait for it: what the records tell
is handed in when it is read.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from leverstep.course.cards import Card
from leverstep.course.course_plan import Week
from leverstep.course.course_words import CourseWords
from leverstep.course.shelf import Shelf

if TYPE_CHECKING:
    from leverstep.bench.kept_workings import KeptWorkings, Unfinished

ALL = "all"
_CLASSES = {1: "first", 2: "second", 3: "third", None: "none"}
_REST = "Not in the plan of the course"

SORTS: dict[str, Callable[[Card], str]] = {
    "joint": lambda card: card.joint,
    "level": lambda card: str(card.difficulty),
    "class": lambda card: _CLASSES[card.lever_class],
    "units": lambda card: card.units,
    "asks": lambda card: card.asks,
}
"""What the list can be narrowed by, and what each problem is in that respect."""


@dataclass(frozen=True, slots=True)
class Suggested:
    """A problem to practise next by the records: why, in short too.

    `is_due` is whether it is for slips that are due.
    """

    ident: str
    why: str
    short: str
    is_due: bool


@dataclass(frozen=True, slots=True)
class ListedProblem:
    """A problem on the list, and how it stands for this student.

    `begun` is whether a working of it can be gone on with, `done` whether one came to its end,
    `due` whether slips are to be met again in it; `words` are those of the course.
    """

    card: Card
    is_own: bool
    words: CourseWords
    due: bool = False
    begun: bool = False
    done: bool = False

    @property
    def joint(self) -> str:
        """Return what it is listed under: `Elbow`."""
        return self.words.joint(self.card.joint)

    @property
    def level(self) -> str:
        """Return how hard it is: `level 2`."""
        return self.words.level(self.card.difficulty)

    @property
    def asks(self) -> str:
        """Return what is asked for, behind `Asks for the`: `effort`."""
        return self.words.asked(self.card.asks)

    @property
    def marks(self) -> tuple[str, ...]:
        """Return how it stands in words, what matters first; none for one never opened."""
        marks = {"due": self.due, "begun": self.begun, "done": self.done}
        return tuple(word for word, holds in marks.items() if holds)


@dataclass(frozen=True, slots=True)
class ListSection:
    """Problems of the list under one heading."""

    heading: str
    problems: tuple[ListedProblem, ...]


class ProblemList:
    """The list: what it holds, how it is narrowed, and what is searched for.

    `kept` are the workings of the records, `suggested` what to practise next by them, None as long
    as that is not known.
    """

    def __init__(self, shelf: Shelf) -> None:
        self.shelf = shelf
        self.kept: KeptWorkings | None = None
        self.suggested: tuple[Suggested, ...] | None = None
        self.narrowed: dict[str, str] = {}
        self.search = ""
        self._cards = {card.id: card for card in shelf.cards}
        self._said = {card.id: _said_of(card, shelf) for card in shelf.cards}

    def show_all(self) -> None:
        """Narrow the list no more, and search for nothing."""
        self.narrowed.clear()
        self.search = ""

    def narrow(self, sort: str) -> None:
        """Narrow the list to the next value of one of the `SORTS`, after the last to none."""
        values = [ALL, *sorted({SORTS[sort](card) for card in self.shelf.offered})]
        place = (values.index(self.narrowed.get(sort, ALL)) + 1) % len(values)
        self.narrowed.pop(sort, None)
        if place:
            self.narrowed[sort] = values[place]

    def narrowed_told(self) -> tuple[str, ...]:
        """Return what the list is narrowed to, in the words of the course: `Level: 2`."""
        words = self.shelf.words
        own = {"joint": words.joints, "level": words.levels, "asks": words.kinds}
        return tuple(
            f"{sort.capitalize()}: {own.get(sort, {}).get(value, value)}"
            for sort, value in self.narrowed.items()
        )

    @property
    def is_whole(self) -> bool:
        """Return whether all problems are shown."""
        return not self.narrowed and not self.search.strip()

    def card(self, ident: str) -> Card | None:
        """Return the card of a problem, None where there is none."""
        return self._cards.get(ident)

    def listed(self, card: Card) -> ListedProblem:
        """Return how a problem stands."""
        kept, ident = self.kept, card.id
        unfinished = () if kept is None else kept.unfinished
        return ListedProblem(
            card, ident in self.shelf.own, self.shelf.words,
            due=any(one.is_due and one.ident == ident for one in self.suggested or ()),
            begun=any(one.problem.id == ident for one in unfinished),
            done=kept is not None and ident in kept.done,
        )  # fmt: skip

    def unfinished(self, every_one: bool = False) -> tuple[Unfinished, ...]:
        """Return the workings to go on with that fit, of each problem the latest, latest first.

        With `every_one` there are the earlier ones too, and those off the list at the end.
        """
        if self.kept is None:
            return ()
        latest = {one.problem.id: one for one in reversed(self.kept.unfinished)}
        listed = (one for one in self.kept.unfinished if latest[one.problem.id] is one)
        there = (*self.kept.unfinished, *self.kept.hidden) if every_one else listed
        return tuple(one for one in there if self._fits_id(one.problem.id))

    @property
    def due(self) -> tuple[Suggested, ...]:
        """Return the problems that are due and fit, the most overdue first."""
        return tuple(o for o in self.suggested or () if o.is_due and self._fits_id(o.ident))

    @property
    def start(self) -> Card | None:
        """Return where somebody starts who has worked nothing yet; None for all others."""
        if self.kept is None or not self.kept.is_empty or not self.is_whole:
            return None
        return self.shelf.first

    @property
    def next(self) -> Suggested | None:
        """Return what to try next where nothing is due, None where that is not known."""
        if not self.is_whole or self.start is not None or self.due:
            return None
        return next((one for one in self.suggested or () if not one.is_due), None)

    def sections(self) -> tuple[ListSection, ...]:
        """Return the problems that fit: by the weeks of the course, others last, or by joint."""
        by_heading: dict[str, list[Card]] = {}
        for week in self.shelf.weeks:
            by_heading[week.title] = [self._cards[i] for i in week.problems if i in self._cards]
        in_weeks = {ident for week in self.shelf.weeks for ident in week.problems}
        for card in self.shelf.offered:
            if card.id not in in_weeks:
                heading = _REST if in_weeks else self.shelf.words.joint(card.joint)
                by_heading.setdefault(heading, []).append(card)
        return self._sections(by_heading)

    @property
    def by_title(self) -> str:
        """Return the first problem that fits whose title has the search as it was typed, or ""."""
        typed = self.search.strip().casefold()
        fitting = (one.card for section in self.sections() for one in section.problems)
        return next((card.id for card in fitting if typed and typed in card.title.casefold()), "")

    def joint(self, joint: str) -> tuple[ListSection, ...]:
        """Return the problems of one joint, whatever the list is narrowed to."""
        cards = [card for card in self.shelf.offered if card.joint == joint]
        return (ListSection(self.shelf.words.joint(joint), tuple(map(self.listed, cards))),)

    def week(self, week: Week) -> tuple[ListSection, ...]:
        """Return the problems of one week, whatever the list is narrowed to."""
        cards = [self._cards[ident] for ident in week.problems if ident in self._cards]
        return (ListSection(week.title, tuple(map(self.listed, cards))),)

    def _sections(self, by_heading: Mapping[str, Iterable[Card]]) -> tuple[ListSection, ...]:
        found = (
            ListSection(heading, tuple(self.listed(card) for card in cards if self._fits(card)))
            for heading, cards in by_heading.items()
        )
        return tuple(section for section in found if section.problems)

    def _fits_id(self, ident: str) -> bool:
        card = self._cards.get(ident)
        return self.is_whole if card is None else self._fits(card)

    def _fits(self, card: Card) -> bool:
        said = self._said[card.id]
        return all(v == SORTS[sort](card) for sort, v in self.narrowed.items()) and all(
            word in said for word in self.search.casefold().split()
        )


def _said_of(card: Card, shelf: Shelf) -> str:
    """Return what words are looked for in: title, joint, week, and what it asks."""
    weeks = (week.title for week in shelf.weeks if card.id in week.problems)
    words = shelf.words
    own = (words.levels.get(str(card.difficulty), ""), words.kinds.get(card.asks, ""))
    named = (words.joint(card.joint), *own)
    parts = (card.id, card.title, card.joint, card.asks, card.units, *named, *weeks)
    return " ".join(parts).casefold()
