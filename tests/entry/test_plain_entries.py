"""A number with a unit is read at once as it would be token by token, whatever stands there."""

from __future__ import annotations

import random

from leverstep.entry.grammar import read_in_pieces, read_line
from leverstep.entry.tree import Tree, Unreadable
from leverstep.statics.units import TABLE

SYMBOLS = frozenset(["W_l", "F_m", "g", "m_l", "L", "θ", "M_N", "d"])
NUMBERS = ("5", "0", "007", "0.5", "12.5", "33.40", "123456789.123456789", "1.5", "-2.5", "10")
SIGNS = " .,;·*/-+^°%'\"()|²³½⅓¹⁻−×xXeE:√…NmgkLdθfti"
"""Signs of which what stands behind a number is made up."""


def read(read_it: object, text: str) -> tuple[Tree, ...] | tuple[str, int | None]:
    """Return what a text is read as, or why not and where."""
    assert callable(read_it)
    try:
        sides: tuple[Tree, ...] = read_it(text, SYMBOLS)
    except Unreadable as error:
        return error.reason.code, error.place
    return sides


def test_what_is_read_at_once_is_what_is_read_in_pieces() -> None:
    chance = random.Random(17)
    spelled = [spelling for row in TABLE.values() for spelling in sorted(row.spellings)]
    behind = ["", " ", ".", *spelled, *(f" {one}" for one in spelled), *sorted(SYMBOLS)]
    behind += ["".join(chance.choices(SIGNS, k=chance.randint(1, 5))) for _ in range(1500)]
    at_once = 0
    for rest in behind:
        for number in chance.sample(NUMBERS, 3):
            found = read(read_line, number + rest)
            assert found == read(read_in_pieces, number + rest), number + rest
            at_once += not isinstance(found[0], str)
    assert at_once > 3 * len(spelled)
