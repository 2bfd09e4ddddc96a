"""Postures in columns beside each other: `straight | bent`, and below it `4.17 cm | 3.20 cm`."""

from __future__ import annotations

import re

from leverstep.claims.labels import words_in
from leverstep.claims.names_in_use import NamesInUse
from leverstep.statics.units import unit

_BETWEEN = re.compile(r"\s*\|\s*|\t+|\s{3,}")
_FEWEST = 2
_DIGIT = re.compile(r"\d")
_NAME = re.compile(r"^[^\d=:(]*?(?=\s*(?:[=:(]|[-+]?\s*\.?\d|$))")
"""What stands before the value in the first of some parts, which are all of that."""
_WITH_UNIT = re.compile(r"^(?P<name>[^([]*?)\s*[([](?P<unit>[^\d()\[\]]+)[)\]]$")
_LAST_NUMBER = re.compile(r"\d+(?:\.\d+)?(?=\s*[a-z]*$)")


def postures_beside(text: str, names: NamesInUse) -> list[str]:
    """Return the marks of the postures that a heading has beside each other, none for any other.

    Args:
        text: the heading, as it was typed.
        names: the words that tell one posture from the others.
    """
    named = [names.posture_named(words_in(cell)) for cell in _BETWEEN.split(text)]
    marks = [mark for mark in named if mark]
    is_each_once = len(set(marks)) == len(marks) >= _FEWEST
    return marks if is_each_once else []


def parts_of(text: str, many: int) -> list[str]:
    """Return what a line says of each of so many postures, each with the name that stands before
    the first; none where it has not so many parts.
    """
    if many < _FEWEST or not _DIGIT.search(text):
        return []
    cells = [cell.strip() for cell in _BETWEEN.split(text.strip().strip("|"))]
    cells = [cell for cell in cells if cell]
    if len(cells) == many + 1 and not _DIGIT.search(cells[0]):
        return _with_head(*cells)
    if len(cells) != many or not _DIGIT.search(cells[0]):
        return []
    first, *others = cells
    name = _NAME.match(first)
    before = name.group().strip() if name else ""
    return [first, *(f"{before} {cell}" if before and _begins(cell) else cell for cell in others)]


def _with_head(head: str, *cells: str) -> list[str]:
    """Return cells with the name of their row before each, and its unit behind each number."""
    told = _WITH_UNIT.match(head)
    if told is None or not all(unit(sign) for sign in re.findall(r"[^\W\d_]+", told["unit"])):
        return [f"{head}: {cell}" for cell in cells]
    name, sign = told["name"], told["unit"]
    with_unit = rf"\g<0> {sign}"
    return [f"{name}: {_LAST_NUMBER.sub(with_unit, cell)}" for cell in cells]


def _begins(cell: str) -> bool:
    """Return whether a part begins with its value, so that its name stands elsewhere."""
    return re.match(r"[-+=(.\d]", cell) is not None
