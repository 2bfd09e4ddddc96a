"""A row of a table, and the sense that a line says moments are counted in."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator
from typing import NamedTuple

_DIGIT = re.compile(r"\d")
_NUMBER = re.compile(r"[+-]?\d+(?:\.\d*)?")
_WITH_UNIT = re.compile(r"\d\s*[A-Za-z]")
_AS_ROUNDED = 0.006
"""How far a product may lie from the number that is written for it, as a share of that."""
_BETWEEN_CELLS = tuple(
    re.compile(mark) for mark in (r"\|", r"\t+", r"\s;\s|;\s(?=[\d.]+\s*(?:;|$))", r"\s{3,}")
)

_TURN = r"\b(anti|counter)?[\s-]?(clockwise|ccw|acw|cw)\b"
_CONVENTION = re.compile(
    rf"{_TURN}[^.;\d]{{0,20}}(?:positive|\+)|(?:positive|\+)[^.;\d]{{0,12}}{_TURN}",
    re.IGNORECASE,
)


def cells_of(text: str) -> list[str]:
    """Return the cells of a row of a table, the whole line as one where it is none.

    A row has two numbers or more, behind its first cell; or one alone, in its last.
    """
    text = text.strip().strip("|")
    for cells in _cuttings(text):
        if len(cells) > 2 and sum(_DIGIT.search(cell) is not None for cell in cells[1:]) > 1:
            return cells
    before, _, last = text.rpartition("|")
    if "|" in before and _DIGIT.search(last) and not _DIGIT.search(before):
        return [cell.strip() for cell in text.split("|")]
    return [text]


def _cuttings(text: str) -> Iterator[list[str]]:
    for mark in _BETWEEN_CELLS:
        yield [cell.strip() for cell in mark.split(text)]


def has_unit(cell: str) -> bool:
    """Return whether a letter follows a number in a cell."""
    return _WITH_UNIT.search(cell) is not None


class Cell(NamedTuple):
    """What stands in a cell of a row, and in which column, counted from 0."""

    column: int
    text: str


def worked_out(cells: list[str]) -> list[Cell]:
    """Return the cells of a row behind the first, the last as worked out where it can be.

    That is where it is the product of two numbers: `30 * 0.2 = 6` of `30 | 0.2 | 6`. It comes
    first, since it tells more than a number alone.
    """
    *others, last = cells[1:]
    before = [Cell(column, text) for column, text in enumerate(others, start=1)]
    end = len(cells) - 1
    product = _NUMBER.fullmatch(last)
    if product is not None:
        size = abs(float(last))
        factors = [cell for cell in others if _NUMBER.fullmatch(cell) and float(cell) not in (0, 1)]
        for one, other in itertools.combinations(factors, 2):
            if size and abs(abs(float(one) * float(other)) / size - 1) < _AS_ROUNDED:
                return [Cell(end, f"{one} * {other} = {last}"), *before]
    return [*before, Cell(end, last)]


def sense_of_moments(plain: str) -> int:
    """Return the sense that `clockwise positive` names: 1 anticlockwise, -1 clockwise, 0 none."""
    said = _CONVENTION.search(plain)
    if said is None or _DIGIT.search(plain):
        return 0
    words = [part.lower() for part in said.groups() if part]
    return 1 if len(words) > 1 or words[0] in ("ccw", "acw") else -1
