"""A mixed set as it is kept: which problems with which numbers, and how many are behind.

No record knows of it, and nothing rests on it: it may be deleted at any time.
"""

from __future__ import annotations

import json
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from leverstep.course.numbers import is_seed
from leverstep.course.places import home, put_by
from leverstep.course.plain_files import read_text
from leverstep.working.guidance import Guidance

if TYPE_CHECKING:
    from leverstep.course.shelf import Shelf

FEWEST, USUAL, MOST = 2, 5, 12
"""How many problems a set may have, and has unless somebody says otherwise."""

LARGEST_SET = 20_000
"""Bytes; a problem of a set is some fifty."""


@dataclass(frozen=True, slots=True)
class SetProblem:
    """One problem of a set, by its id, and what its numbers are drawn from."""

    ident: str
    seed: str


@dataclass(frozen=True, slots=True)
class MixedSet:
    """A set: when it was begun, its problems in their order, and how many of them are behind.

    `guidance` is how far the student is led in all of them.
    """

    begun: datetime
    guidance: Guidance
    problems: tuple[SetProblem, ...]
    behind: int = 0

    @property
    def at_hand(self) -> SetProblem | None:
        """Return the problem that comes now, None at the end."""
        return self.problems[self.behind] if self.behind < len(self.problems) else None

    @property
    def is_last(self) -> bool:
        """Return whether the problem that comes now is the last one."""
        return self.behind == len(self.problems) - 1

    @property
    def place_told(self) -> str:
        """Return which problem comes now: `Problem 2 of 5`."""
        return f"Problem {self.behind + 1} of {len(self.problems)}"

    def passed(self) -> MixedSet:
        """Return the set with the problem that comes now behind."""
        return replace(self, behind=self.behind + 1)


def set_kept(shelf: Shelf, data: Path | None = None) -> MixedSet | None:
    """Return the set that is kept, None without one or where a problem of it is not here now."""
    with suppress(OSError, ValueError, TypeError, KeyError, RecursionError, OverflowError):
        return _set(json.loads(read_text(_place(data), LARGEST_SET)), shelf)
    return None


def keep_set(mixed: MixedSet, data: Path | None = None) -> None:
    """Keep a set in place of the one before; where that can't be written, it is for this time."""
    written = {
        "begun": mixed.begun.isoformat(),
        "guidance": mixed.guidance,
        "problems": [[one.ident, one.seed] for one in mixed.problems],
        "behind": mixed.behind,
    }
    put_by(_place(data), json.dumps(written), waits=False)


def forget_set(data: Path | None = None) -> None:
    """Keep no set any more."""
    with suppress(OSError):
        _place(data).unlink()


def _place(data: Path | None) -> Path:
    return (data or home()) / "mixed.json"


def _set(kept: dict[str, Any], shelf: Shelf) -> MixedSet:
    """Return a set as it is kept.

    Raises:
        ValueError, TypeError, KeyError, OverflowError: where it is none.
    """
    problems = tuple(SetProblem(str(ident), str(seed)) for ident, seed in kept["problems"])
    begun, behind = datetime.fromisoformat(kept["begun"]).astimezone(UTC), kept["behind"]
    if type(behind) is not int or not 0 <= behind <= len(problems) <= MOST or not problems:
        raise ValueError("no place in a set")
    if not all(one.ident in shelf.problems and is_seed(one.seed) for one in problems):
        raise ValueError("no problem that is here")
    return MixedSet(begun, Guidance(kept["guidance"]), problems, behind)
