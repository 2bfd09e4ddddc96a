"""What a line of a page turned out to be, and what it claims."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from leverstep.claims.amendments import Amendment
from leverstep.comparing.equation import TermFindings
from leverstep.entry.tree import Operation, Tree, is_arithmetic


class LineStanding(StrEnum):
    """What a line of a page turned out to be, the best first.

    `KEPT` is true but not asked for; `FOLLOWS` would be true had the student's own earlier numbers
    been right; `REMARK` claims nothing.
    """

    RIGHT = "right"
    KEPT = "kept"
    FOLLOWS = "follows"
    WRONG = "wrong"
    UNREAD = "unread"
    REMARK = "remark"

    @property
    def holds(self) -> bool:
        """Return whether what is claimed is true, or would be with the earlier numbers right."""
        return self in (LineStanding.RIGHT, LineStanding.KEPT, LineStanding.FOLLOWS)

    @property
    def rank(self) -> int:
        """Return how well it holds, 0 for the best; all that do not hold are alike."""
        return _BEST_FIRST.index(self) if self.holds else len(_BEST_FIRST)


_NUMBER = re.compile(r"(?<![\w.,])\d+(?:[.,]\d+)?")
_SHARE = re.compile(r"\( [\d.]+ / 100 \)|\d / \d")
"""A share of something, as a percentage or a simple fraction: `70 %`, `2/3`."""
_BEST_FIRST = list(LineStanding)
_DECIDING = (
    LineStanding.WRONG,
    LineStanding.FOLLOWS,
    LineStanding.RIGHT,
    LineStanding.KEPT,
    LineStanding.UNREAD,
)
"""What a line is, where one of its claims is: the first of these that is there."""


@dataclass(frozen=True, slots=True)
class Claim:
    """What a chain claims: of which quantity, its value there, and whether it holds.

    `key` is that of the quantity, "" where it is of nothing that is known; `value` is in kg, m, s
    and degrees, nan where it has none. `tree` is how it was found, or the number itself; `figures`
    are the significant figures written, `slack` half a unit of the last digit. `sign` says that
    only the sign is wrong, `text` is the chain as it was read.

    `symbol` is what it was written for, "" where nothing; `named` is whether that or the words say
    which quantity it is of, so that not its value alone tells. An equation is one `of_moments`
    where its unknown has a factor; `unknowns` are how many of its symbols had no value yet.
    `doubted` is a claim that seems wrong without proof: it is unread, and what rests on it follows.
    `unequal` is the claim of a chain whose sides are not equal. `letters` are those of an equation
    without numbers that most of it is made of, and that nothing says the meaning of. `terms` is
    what is made otherwise in an equation of forces; `amended` is what its arithmetic would be with
    one thing in it otherwise, so that it holds.
    """

    standing: LineStanding
    key: str = ""
    value: float = math.nan
    tree: Tree | None = None
    figures: int | None = None
    slack: float = 0.0
    sign: bool = False
    text: str = ""
    is_equation: bool = False
    symbol: str = ""
    of_moments: bool = False
    named: bool = True
    unknowns: int = 0
    doubted: bool = False
    unequal: bool = False
    letters: tuple[str, ...] = ()
    terms: TermFindings | None = None
    amended: Amendment | None = None

    @property
    def has_numbers(self) -> bool:
        """Return whether there is a number in it, other than zero and those of symbols."""
        return any(float(one.replace(",", ".")) for one in _NUMBER.findall(self.text))

    @property
    def is_worked_out(self) -> bool:
        """Return whether it shows how its value was worked out."""
        return self.tree is not None and is_arithmetic(self.tree)

    @property
    def is_open(self) -> bool:
        """Return whether it is worked out, and not what it is said or seems to be; a product by no
        name may lack a factor that is taken later.
        """
        is_sum = isinstance(self.tree, Operation) and self.tree.operator in "+-"
        is_told = self.named or (self.doubted and is_sum)
        is_share = _SHARE.fullmatch(self.text) is not None
        is_unread = self.standing is LineStanding.UNREAD and bool(self.key)
        return is_unread and self.is_worked_out and is_told and not is_share

    @property
    def is_beside(self) -> bool:
        """Return whether it is true and of no value or line: a given, or which way a force acts."""
        is_untold = not self.key and not self.letters
        return is_untold and self.tree is None and math.isnan(self.value)

    def is_better_than(self, other: Claim | None) -> bool:
        """Return whether this is the kinder reading of the same chain."""
        if other is None:
            return True
        return _BEST_FIRST.index(self.standing) < _BEST_FIRST.index(other.standing)


@dataclass(frozen=True, slots=True)
class JudgedLine:
    """A line of a page with what came of it; `number` counts from 1."""

    number: int
    text: str
    standing: LineStanding
    claims: tuple[Claim, ...] = ()

    @property
    def about(self) -> tuple[str, ...]:
        """Return the keys of what it is about, each once."""
        read = (claim for claim in self.claims if claim.standing is not LineStanding.UNREAD)
        return tuple(dict.fromkeys(claim.key for claim in read if claim.key))


def whole(claims: Iterable[Claim]) -> LineStanding:
    """Return what a line is as a whole: wrong where one of its claims is, and not judged where one
    would be right with one thing in it otherwise, or is worked out and comes to nothing that is
    known, whatever else it says.
    """
    claims = list(claims)
    there = {claim.standing for claim in claims}
    is_suspected = any(claim.doubted and claim.amended and claim.named for claim in claims)
    holding = {claim.key for claim in claims if claim.standing.holds}
    is_open = any(claim.is_open and (claim.doubted or claim.key not in holding) for claim in claims)
    if (is_suspected or is_open) and LineStanding.WRONG not in there:
        return LineStanding.UNREAD
    return next((standing for standing in _DECIDING if standing in there), LineStanding.REMARK)
