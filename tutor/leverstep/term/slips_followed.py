"""Slips followed from drill to drill: what each drill shows of them, and what became of them.

Slips that share a reason are one, as in `slips.habits`; those of free-body diagrams have reasons of
their own. A drill shows that a student makes one where it was told for sure, and that the student
does not where a line that could have shown it was right at the first try, without a hint, or where
a diagram that could have came to be right without one; else it shows nothing of it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from itertools import pairwise

from leverstep.course.phrases import either
from leverstep.marking.marking import Marked
from leverstep.reports.slipped import told_slips
from leverstep.slips.catalogue import Catalogue
from leverstep.working.verdict import Outcome

MADE, AVOIDED, SILENT = "x", "o", "-"
"""What a drill shows of a slip, as a letter of a track."""

Track = str
"""What each drill in turn shows of a slip in one student, from the first drill on: nothing up to
the drill where it was made first."""


class SlipState(StrEnum):
    """How a slip of a student stands at the end of the term."""

    STAYING = "made again the last time"
    BACK = "gone, then made again"
    GONE = "gone"
    OPEN = "not met since"


def signs(marked: Marked, catalogue: Catalogue) -> tuple[Mapping[str, tuple[str, ...]], set[str]]:
    """Return what a sitting shows of slips, by their reasons.

    They are those made, each with the names of the slips that were told, and those avoided.
    """
    made = {
        reason: tuple(catalogue.slips[slip].name for _, slips in told for slip in slips)
        for reason, told in told_slips(marked, catalogue).items()
    }
    avoided: set[str] = set()
    for entry in marked.entries:
        if entry.outcome in (Outcome.RIGHT, Outcome.FOLLOWED) and not entry.hints:
            avoided |= entry.could
    words = catalogue.diagram_slips
    for picture in marked.pictures:
        for drawn in map(words.__getitem__, picture.slips):
            made[drawn.reason_anywhere] = (*made.get(drawn.reason_anywhere, ()), drawn.name)
        avoided.update(words[slip].reason_anywhere for slip in picture.avoided)
    return made, avoided - made.keys()


def extended(track: Track, place: int, sign: str) -> Track:
    """Return a track with what the drill at a place, from 0, shows."""
    return track.ljust(place, SILENT) + sign


def next_signs(track: Track) -> Iterator[str]:
    """Yield for each drill that shows a slip made what the next one shows that shows anything."""
    shown = track.replace(SILENT, "")
    yield from (after for before, after in pairwise(shown) if before == MADE)


def is_back(track: Track) -> bool:
    """Return whether a slip was made again after a drill that shows it avoided."""
    return AVOIDED + MADE in track.replace(SILENT, "")


def state_of(track: Track) -> SlipState:
    """Return how a slip stands that was made once at least."""
    shown = track.replace(SILENT, "")
    if shown.endswith(AVOIDED):
        return SlipState.GONE
    if len(shown) == 1:
        return SlipState.OPEN
    return SlipState.BACK if shown.endswith(AVOIDED + MADE) else SlipState.STAYING


def stays(track: Track) -> bool:
    """Return whether a slip was made the last time that a drill showed it, and not that alone."""
    return state_of(track) in (SlipState.STAYING, SlipState.BACK)


@dataclass(frozen=True, slots=True)
class SlipFollowed:
    """Slips for one reason over a term: how many students made them, and where.

    `names` are those of the slips, the one told most often first, and `reason` is what they share.
    `made` and `shown` count by drill the students who made one, and those of whom the drill shows
    whether they did. `met` is how often a student who had made one in a drill met a later one that
    shows it; then it was `stayed` times made again in the next of these, else gone. `back` counts
    the students who made one again after it was gone.
    """

    names: tuple[str, ...]
    reason: str
    students: int
    made: tuple[int, ...]
    shown: tuple[int, ...]
    met: int
    stayed: int
    back: int

    @property
    def gone(self) -> int:
        """Return how often it was not made the next time."""
        return self.met - self.stayed

    @property
    def name(self) -> str:
        """Return the names of the slips in words."""
        return either(list(self.names))


@dataclass(slots=True)
class SlipSums:
    """What drills show of one reason, over students; `told` counts the names that were told."""

    made: Counter[int] = field(default_factory=Counter)
    shown: Counter[int] = field(default_factory=Counter)
    told: Counter[str] = field(default_factory=Counter)


@dataclass(slots=True)
class TrackSums:
    """What became of the slips of one reason, over the students who made one."""

    students: int = 0
    met: int = 0
    stayed: int = 0
    back: int = 0

    def add(self, track: Track) -> None:
        """Add the track of a student."""
        after = list(next_signs(track))
        self.students += 1
        self.met += len(after)
        self.stayed += after.count(MADE)
        self.back += is_back(track)


def followed(reason: str, sums: SlipSums, tracks: TrackSums, drills: int) -> SlipFollowed:
    """Return the figures of one reason over a term of so many drills."""
    return SlipFollowed(
        names=tuple(sorted(sums.told, key=lambda name: (-sums.told[name], name))),
        reason=reason,
        students=tracks.students,
        made=tuple(sums.made[place] for place in range(drills)),
        shown=tuple(sums.shown[place] for place in range(drills)),
        met=tracks.met,
        stayed=tracks.stayed,
        back=tracks.back,
    )
