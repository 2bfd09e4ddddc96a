"""A row of a table, and the sense that a line says moments are counted in."""

from __future__ import annotations

import re
from collections.abc import Iterator

_DIGIT = re.compile(r"\d")
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


def sense_of_moments(plain: str) -> int:
    """Return the sense that `clockwise positive` names: 1 anticlockwise, -1 clockwise, 0 none."""
    said = _CONVENTION.search(plain)
    if said is None or _DIGIT.search(plain):
        return 0
    words = [part.lower() for part in said.groups() if part]
    return 1 if len(words) > 1 or words[0] in ("ccw", "acw") else -1
