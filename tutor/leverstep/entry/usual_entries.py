"""What most entries are: one number with a unit or none, which take no reading in pieces.

What stands behind the number is read once at a kind of line, with another number in its place; from
there on each number goes the same way, by the same arithmetic.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import NamedTuple

from leverstep.entry.amount import Amount, unit_size
from leverstep.entry.grammar import PLAIN, STAND_IN
from leverstep.entry.reading import Reading, read_entry
from leverstep.entry.tokens import number_of
from leverstep.entry.tree import Measured, Negative, Tree, Unreadable
from leverstep.statics.kinds import Kind
from leverstep.statics.step import Step
from leverstep.statics.units import unit_of_line


class _Way(NamedTuple):
    """How a number is read at a line: by its unit, what one of that is worth, and by how much the
    result is divided. `finer` is what half a unit of its last digit is multiplied by; the rest is
    as in a `Reading`.
    """

    units: tuple[tuple[str, int], ...]
    worth: float
    divided: float
    finer: float
    converted: str
    size: float
    gravity: int


def read_usual(text: str, step: Step, symbols: frozenset[str]) -> Reading | None:
    """Return what `read_entry` does of one number; None for any other text, which that is to read.

    Args:
        text: what was typed.
        step: the step it was typed at.
        symbols: all those of the problem.
    """
    plain = PLAIN.fullmatch(text)
    if plain is None:
        return None
    minus, digits, rest = plain.groups()
    way = _way(rest, step.kind, step.unit, symbols)
    return None if way is None else _read_by(way, digits, bool(minus))


def _read_by(way: _Way, digits: str, is_negative: bool) -> Reading | None:
    """Return the reading of a number; None of zero, which needs no unit."""
    number = number_of(digits)
    value = number.value * way.worth / way.divided
    if not value:
        return None
    tree: Tree = Measured(number, way.units) if way.units else number
    if is_negative:
        value, tree = -value, Negative(tree)
    return Reading(
        value, number.half_digit * way.finer, number.figures, way.converted, way.size,
        gravity=way.gravity, tree=tree, worked=value,
    )  # fmt: skip


@lru_cache(maxsize=4096)
def _way(rest: str, kind: Kind, unit: str, symbols: frozenset[str]) -> _Way | None:
    """Return how any number is read that a text stands behind; None where each is to be read by
    itself: it is refused, more than a number, or a mass that stands for a force.
    """
    if not kind.is_number:
        return None
    step = Step("", kind, "", None, "", unit=unit)
    try:
        read = read_entry(f"{STAND_IN}{rest}", step, dict.fromkeys(symbols, Amount(math.nan)))
    except Unreadable:
        return None
    units = read.tree.units if isinstance(read.tree, Measured) else ()
    worth = unit_size(units).value if units else 1.0
    divided = 1.0 if read.gravity else unit_of_line(unit).size
    finer = worth / divided if units else 1.0
    way = _Way(units, worth, divided, finer, read.converted, read.size, read.gravity)
    return way if _read_by(way, STAND_IN, is_negative=False) == read else None
