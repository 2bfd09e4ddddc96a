"""Problem files as texts: put together of their tables, changed in places, and read."""

from __future__ import annotations

import re
from pathlib import Path

from leverstep.course.problem import Problem
from leverstep.course.problem_file import problem_of

_IDENT = re.compile('^id = "(.*)"$', re.MULTILINE)


def changed(text: str, *changes: tuple[str, str]) -> str:
    """Return a text with some of it replaced, each of which stands in it once."""
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


def read_text(text: str, *changes: tuple[str, str]) -> Problem:
    """Return the problem of a text with some of it replaced, from a file called as its id was.

    Raises:
        FileError: with every fault of the text.
    """
    ident = _IDENT.search(text)
    assert ident is not None
    path = Path(f"{ident[1]}.toml")
    return problem_of(changed(text, *changes), path, path.name)


def head(title: str, statement: str, joint: str = "plain", ident: str = "good") -> str:
    """Return the lines that a file begins with."""
    return f"""
id = "{ident}"
title = "{title}"
joint = "{joint}"
difficulty = 1
statement = "{statement}"
"""


def quantity(symbol: str, value: float, unit: str, *, beyond: bool = False) -> str:
    """Return a given with its symbol, as a distance has it, `beyond` the axis, or an angle."""
    more = ", beyond = true" if beyond else ""
    return f'{{ symbol = "{symbol}", value = {value}, unit = "{unit}"{more} }}'


def segment(name: str, axis: str, more: str = "") -> str:
    """Return the table of the segment; `more` has other lines of it."""
    return f'[segment]\nname = "{name}"\naxis = "{axis}"\n{more}'


def effort(symbol: str, name: str, at: str, direction: str = '"up"', size: str = "") -> str:
    """Return the table of the effort; `size` is its line, with none where that is to be found."""
    return f"[effort]\n{_force(symbol, name, size, at, direction)}"


def load(symbol: str, name: str, size: str, at: str, direction: str = '"down"') -> str:
    """Return the table of a load; `size` is its line: `mass = { value = 2, unit = "kg" }`."""
    return f"[[load]]\n{_force(symbol, name, size, at, direction)}"


def _force(symbol: str, name: str, size: str, at: str, direction: str) -> str:
    lines = (f'symbol = "{symbol}"', f'name = "{name}"', size, f"at = {at}")
    return "\n".join((*filter(None, lines), f"direction = {direction}", ""))


def kilograms(value: float) -> str:
    """Return the line of a mass."""
    return f'mass = {{ value = {value}, unit = "kg" }}'


def newtons(value: float) -> str:
    """Return the line of a force."""
    return f'force = {{ value = {value}, unit = "N" }}'


def leaning(symbol: str, degrees: float, toward: str) -> str:
    """Return the direction of a pull that leans up from the horizontal, to the left or right."""
    angle = quantity(symbol, degrees, "deg")
    return f'{{ line = "horizontal", toward = "{toward}", side = "above", angle = {angle} }}'
