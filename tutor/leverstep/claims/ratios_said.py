"""One force over another, said by their symbols: `F_2/F_1 = 1.31`, which may have a line."""

from __future__ import annotations

import math
import re
import string
from collections.abc import Iterator
from dataclasses import replace

from leverstep.claims.judged_line import Claim, LineStanding
from leverstep.claims.memory import Memory
from leverstep.claims.near_numbers import is_near
from leverstep.claims.page_quantities import Quantity
from leverstep.claims.segments import Chain
from leverstep.claims.subject import Subject
from leverstep.claims.worth import sides_of
from leverstep.entry.tree import Name, compared_in
from leverstep.statics import kinds
from leverstep.statics.units import FORCE

_NUMBERED = re.compile(r"^([A-Z])_?[1-9]$")
"""A force that is only numbered, in whichever order a page has them."""


def with_ratio_named(chain: Chain, subject: Subject, memory: Memory) -> Chain:
    """Return a chain with the symbol of the line that one force over another has, where it begins
    with that; any other as it is.
    """
    keys = tuple(map(memory.key_of, _names_compared(chain)))
    ratio = next((one for one in _ratios(subject) if _compared_by(one) == keys), None)
    if ratio is None:
        return chain
    sides = (Name("ratio_", 0), *chain.sides[1:])
    return replace(chain, sides=sides, names={**chain.names, "ratio_": ratio.key})


def ratio_of_numbered(chain: Chain, subject: Subject, memory: Memory) -> Claim | None:
    """Return the true claim of how two forces compare that the page has only numbers for, else
    None: which of them is which is seen by the value alone.
    """
    names = _names_compared(chain)
    if all(name in memory.written for name in names):  # then their values tell
        return None
    letters = {_NUMBERED.sub(r"\1", name) for name in names}
    if len(letters) != 1 or not letters <= set(string.ascii_uppercase):
        return None
    last = sides_of(chain, memory.written, memory.dimensions)[-1]
    for ratio in _ratios(subject):
        right = subject.worth(ratio)
        if is_near(last.plain, right, last.slack):
            return Claim(LineStanding.RIGHT, ratio.key, last.plain, last.tree, text=chain.text)
        if right and is_near(last.plain, 1 / right, last.slack):
            return Claim(LineStanding.KEPT, "", last.plain, last.tree, text=chain.text)
    return None


def true_quotient(chain: Chain, subject: Subject, memory: Memory) -> Claim | None:
    """Return the claim of one force over another where all that it is said to be is the quotient of
    their values, whether a line asks for that or not; None for any other chain.
    """
    values = [_worth_of(name, subject, memory) for name in _names_compared(chain)]
    if not values or not values[1]:
        return None
    quotient = values[0] / values[1]
    said = sides_of(chain, memory.written, memory.dimensions)[1:]
    for of_sizes in (quotient, abs(quotient)):
        if all(is_near(side.plain, of_sizes, side.slack) for side in said):
            last = said[-1]
            return Claim(LineStanding.KEPT, "", last.plain, last.tree, text=chain.text)
    return None


def _worth_of(name: str, subject: Subject, memory: Memory) -> float:
    """Return what a force is worth in newtons: as it was written, or else as it is right; nan for
    what is no force.
    """
    force = memory.quantity_of(name)
    if force is None or force.dimension != FORCE:
        return math.nan
    return memory.in_si.get(name, subject.worth(force))


def _names_compared(chain: Chain) -> tuple[str, ...]:
    """Return the symbols above and below the line that a chain begins with, none elsewhere."""
    return tuple(chain.names[symbol] for symbol in compared_in(chain.sides) or ())


def _ratios(subject: Subject) -> Iterator[Quantity]:
    """Yield the lines that are one force over another."""
    return (one for one in subject.with_line if one.step and one.step.kind is kinds.RATIO)


def _compared_by(ratio: Quantity) -> tuple[str, ...]:
    """Return the keys of what a ratio has above and below the line, as it is written."""
    return () if ratio.step is None else ratio.step.quantities[:2]
