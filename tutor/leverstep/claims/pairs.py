"""A force by its two components, `F = (-1318, 716) N`, or a point by its coordinates."""

from __future__ import annotations

import re
from collections.abc import Sequence

_SIGNED = r"[+-]?\s*\d+(?:\.\d+)?"
_PAIR = re.compile(
    rf"(?:^|[,;])\s*(?P<words>(?:[a-z]+\s+)?)(?:(?P<symbol>[A-Za-z]\w*)\s*(?==))?(?:[^=;]*=)+\s*"
    rf"\(\s*(?P<across>{_SIGNED})\s*[,|]\s*(?P<upward>{_SIGNED})\s*\)\s*"
    r"(?P<unit>N|lbf|lb|kN|mm|cm|m|in|ft)\b"
)
_AXES = ("horizontal", "vertical")
_LONGEST_SYMBOL = 2
_LENGTHS = ("mm", "cm", "m", "in", "ft")
_CELL = re.compile(r"[+-]\s*\d+(?:\.\d+)?")


def components_in(plain: str, cells: list[str]) -> list[str]:
    """Return both parts of a pair or of a row of two signed numbers, each as a line.

    Args:
        plain: the line, made plain.
        cells: the cells of the line, where it is a row.
    """
    signed = [cell for cell in cells[1:] if _CELL.fullmatch(cell)]
    if len(cells) == len(_AXES) + 1 and len(signed) == len(_AXES):
        return _lines(cells[0], signed, "")
    found = []
    for said in _PAIR.finditer(plain):
        words = " ".join(re.findall(r"[A-Za-z]{3,}", plain[: said.start()] + said["words"]))
        numbers = said.group("across", "upward")
        if said["unit"] in _LENGTHS:  # a point by its coordinates
            named = " ".join(re.findall(r"[A-Za-z]{3,}", plain.partition("=")[0]))
            found += [
                f"{named} {axis} coordinate = {n} {said['unit']}"
                for axis, n in zip(_AXES, numbers, strict=True)
            ]
            continue
        found += [
            f"{words} {line}" for line in _lines(said["symbol"] or "sum", numbers, said["unit"])
        ]
    return found


def _lines(called: str, numbers: Sequence[str], unit: str) -> list[str]:
    if len(called) <= _LONGEST_SYMBOL:
        return [f"{called}{axis} = {n} {unit}" for axis, n in zip("xy", numbers, strict=True)]
    return [f"{called} {axis} = {n} {unit}" for axis, n in zip(_AXES, numbers, strict=True)]
