"""Figures of one's own practice: which slips are gone, and when each is to be met again.

All follows from a history and a day, so the same records give the same figures.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from enum import StrEnum
from fractions import Fraction
from functools import cached_property

from leverstep.course.listing import KINDS
from leverstep.course.phrases import either
from leverstep.progress.history import History
from leverstep.progress.replay import Worked
from leverstep.slips.catalogue import Catalogue, Slip
from leverstep.slips.picture_slips import SlipWords

INTERVALS = (1, 2, 4, 8, 16, 32)
"""Days from one review to the next: doubled by each that is clean, and the last for good."""

CLEAN_LINES, CLEAN_WORKINGS = 4, 2
"""A slip is gone after so many lines right at the first try where it could have been made, in so
many later workings, where most of the latest were right (`SHARE`). Who makes it on every second
line has four such lines in a row 1 time in 16; a later working, since right after it was told
anyone avoids it."""

LATEST, SHARE = 6, Fraction(3, 4)
"""Of so many of the latest lines since a slip was last made, this share must be right at the first
try, or it is neither gone nor getting better: many lines hide a slip as well as they show it."""

FEW_SINCE = 2
"""With fewer lines right since, nothing is called better."""

FEW_LINES = 10
"""With fewer lines no share is given: one line more or less would change it too much."""


class Sign(StrEnum):
    """What a line shows of a slip that could be made there."""

    MADE = "made"
    RIGHT = "right at the first try"
    OTHER = "not right at first, for another reason"


class State(StrEnum):
    """How a slip stands."""

    GONE = "gone"
    LAST = "made the last time"
    FEW = "too few lines so far"
    OPEN = "not gone yet"


@dataclass(frozen=True, slots=True)
class Occasion:
    """A line where a slip could be made: when it was written, in which working, what it shows."""

    time: datetime
    working: int
    sign: Sign


@dataclass(frozen=True)
class SlipFigures:
    """A slip that was made, with those that share its reason.

    `slips` are those made, the latest last; `occasions` the lines where one of them could be made,
    the earliest first.
    """

    slips: tuple[Slip, ...]
    occasions: tuple[Occasion, ...]

    @property
    def name(self) -> str:
        """Return the names of the slips, the one made last first: each was told by its own name."""
        return either([slip.name for slip in reversed(self.slips)])

    @property
    def reason(self) -> str:
        """Return why it is wrong: what the slips have in common."""
        return self.slips[-1].reason

    @cached_property
    def made(self) -> tuple[Occasion, ...]:
        """Return the lines that it was made on."""
        return tuple(one for one in self.occasions if one.sign is Sign.MADE)

    @cached_property
    def since(self) -> tuple[Occasion, ...]:
        """Return the lines since where it could have been made."""
        back = next(n for n, one in enumerate(reversed(self.occasions)) if one.sign is Sign.MADE)
        return self.occasions[len(self.occasions) - back :]

    @cached_property
    def right_since(self) -> tuple[Occasion, ...]:
        """Return those of them that were right at the first try."""
        return tuple(one for one in self.since if one.sign is Sign.RIGHT)

    @property
    def workings_since(self) -> int:
        """Return in how many later workings those are."""
        return len({one.working for one in self.right_since} - {self.made[-1].working})

    @property
    def latest(self) -> tuple[Occasion, ...]:
        """Return the latest of the lines since."""
        return self.since[-LATEST:]

    @property
    def right_latest(self) -> int:
        """Return how many of the latest lines were right at the first try."""
        return sum(one.sign is Sign.RIGHT for one in self.latest)

    @property
    def is_mostly_right(self) -> bool:
        """Return whether the share of the latest lines that were right is high enough."""
        return self.right_latest >= SHARE * len(self.latest)

    @property
    def gone(self) -> bool:
        """Return whether the slip is gone."""
        is_often = len(self.right_since) >= CLEAN_LINES and self.workings_since >= CLEAN_WORKINGS
        return is_often and self.is_mostly_right

    @property
    def is_better(self) -> bool:
        """Return whether the slip is gone, or on its way to be: avoided in a later working too."""
        is_often = len(self.right_since) >= FEW_SINCE and self.workings_since > 0
        return is_often and self.is_mostly_right

    @property
    def state(self) -> State:
        """Return how the slip stands."""
        if self.gone:
            return State.GONE
        if not self.since:
            return State.LAST
        return State.FEW if len(self.since) < CLEAN_LINES else State.OPEN

    @cached_property
    def due(self) -> date:
        """Return the day from which the slip is to be met again."""
        return next_review(self.occasions)


@dataclass(frozen=True, slots=True)
class DrawnSlip:
    """A slip that was made in free-body diagrams: in how many of all of them, and when last.

    `since` is how many were drawn after that.
    """

    words: SlipWords
    made: int
    of_all: int
    last: datetime
    since: int

    @property
    def name(self) -> str:
        """Return the name of the slip."""
        return self.words.name

    @property
    def is_better(self) -> bool:
        """Return whether several diagrams were drawn without it since."""
        return self.since >= FEW_SINCE


def drawn_slips(history: History, catalogue: Catalogue) -> tuple[DrawnSlip, ...]:
    """Return every slip that was made in a diagram, the one made last first."""
    drawn = history.drawn
    found = []
    for slip in dict.fromkeys(slip for one in drawn for slip in one.slips):
        made = [place for place, one in enumerate(drawn) if slip in one.slips]
        last = made[-1]
        since = len(drawn) - 1 - last
        words = catalogue.diagram_slips[slip]
        found.append(DrawnSlip(words, len(made), len(drawn), drawn[last].time, since))
    return tuple(sorted(found, key=lambda one: one.since))


def next_review(occasions: Iterable[Occasion]) -> date:
    """Return the day of the next review, by the days between those before.

    The first is a day after the slip was made; one that is clean when it is due doubles the days to
    the next. A clean line before its day changes nothing; a slip made again starts over.

    Args:
        occasions: the earliest first; the slip was made on at least one of them.
    """
    due, stage = date.max, 0
    for one in occasions:
        day = one.time.date()
        if one.sign is Sign.MADE:
            stage = 0
        elif one.sign is Sign.RIGHT and day >= due:
            stage = min(stage + 1, len(INTERVALS) - 1)
        else:
            continue
        due = day + timedelta(days=INTERVALS[stage])
    return due


def slip_figures(history: History) -> tuple[SlipFigures, ...]:
    """Return the figures of every slip that was made for sure, the one made last first."""
    made: dict[str, dict[str, Slip]] = {}
    entries = (entry for worked in history.workings for entry in worked.entries)
    for entry in sorted(entries, key=lambda entry: entry.time):
        for slip in entry.made:
            of_reason = made.setdefault(slip.reason, {})
            of_reason.pop(slip.id, None)
            of_reason[slip.id] = slip
    found = [
        SlipFigures(tuple(slips.values()), tuple(_occasions(history, reason)))
        for reason, slips in made.items()
    ]
    return tuple(sorted(found, key=lambda one: one.made[-1].time, reverse=True))


def _occasions(history: History, reason: str) -> list[Occasion]:
    """Return the lines where a slip with this reason could be made, or was made."""
    found: dict[tuple[int, str], Occasion] = {}
    for working, worked in enumerate(history.workings):
        for entry in worked.entries:
            if any(slip.reason == reason for slip in entry.made):
                sign = Sign.MADE
            elif entry.first and reason in entry.could:
                sign = Sign.RIGHT if entry.right else Sign.OTHER
            else:
                continue
            found.pop((working, entry.step), None)  # the same slip once more on the same line
            found[working, entry.step] = Occasion(entry.time, working, sign)
    return sorted(found.values(), key=lambda one: one.time)


@dataclass(frozen=True, slots=True)
class AmountWorked:
    """How much was worked: workings begun and finished, lines, those right at the first try."""

    begun: int = 0
    finished: int = 0
    lines: int = 0
    right: int = 0

    @property
    def share(self) -> Fraction:
        """Return the share of lines that were right at the first try, 0 of none."""
        return Fraction(self.right, self.lines) if self.lines else Fraction()

    @property
    def enough(self) -> bool:
        """Return whether there are lines enough to give a share."""
        return self.lines >= FEW_LINES


def amount(history: History, joint: str = "", kind: str = "") -> AmountWorked:
    """Return how much was worked: of one joint or of all, of one kind of problem or of all."""
    workings = [
        one
        for one in history.workings
        if joint in ("", one.card.joint) and kind in ("", one.card.asks)
    ]
    return amount_of(workings)


def amount_of(workings: Sequence[Worked]) -> AmountWorked:
    """Return how much some workings are."""
    firsts = [entry for one in workings for entry in one.entries if entry.first]
    return AmountWorked(
        len(workings),
        sum(one.finished for one in workings),
        len(firsts),
        sum(entry.right for entry in firsts),
    )


def by_joint(history: History) -> Iterator[tuple[str, AmountWorked]]:
    """Yield how much was worked of each joint, in the order of their names."""
    for joint in sorted({one.card.joint for one in history.workings}):
        yield joint, amount(history, joint)


def by_kind(history: History) -> Iterator[tuple[str, AmountWorked]]:
    """Yield how much was worked of each kind of problem, in the order of `listing.KINDS`."""
    worked = {one.card.asks for one in history.workings}
    for kind in KINDS:
        if kind in worked:
            yield kind, amount(history, kind=kind)
