"""Phrases that are said in several places, of drills and elsewhere."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime, tzinfo
from fractions import Fraction

YEARS = range(1971, 3000)
"""Moments of these years can be told on every system in the time of every zone."""


def moment(when: datetime, zone: tzinfo | None = None) -> str:
    """Return a moment with its offset; in the time of this computer unless a zone is given."""
    local = when.astimezone(zone)
    offset = f"{local:%z}"
    return f"{local:%d %B %Y at %H:%M} (UTC{offset[:3]}:{offset[3:5]})"


def times(number: int) -> str:
    """Return how often: `once`, `twice`, `3 times`."""
    return {1: "once", 2: "twice"}.get(number, f"{number} times")


def counted(number: Fraction | int, name: str, several: str = "") -> str:
    """Return a number with what it counts: `1 task`, `2.5 marks`, `3 entries`."""
    told = str(number) if isinstance(number, int) else f"{float(number):g}"
    return f"{told} {name if number == 1 else several or f'{name}s'}"


def listed(names: Sequence[str], last: str = "and") -> str:
    """Return some names as one says them: `the pail, the cup and the tray`; `last` is the word."""
    return f" {last} ".join(filter(None, (", ".join(names[:-1]), *names[-1:])))


def either(names: Sequence[str]) -> str:
    """Return some names of which it is one: `the pail, the cup or the tray`."""
    return listed(names, "or")


def some_named(names: Sequence[str], most: int) -> str:
    """Return the first of some names, and how many there are besides: `s01, s02 and 3 more`."""
    more = len(names) - most
    told = ", ".join(names[:most])
    return f"{told} and {more} more" if more > 0 else told


def tasks_told(numbers: Iterable[int]) -> str:
    """Return tasks by their numbers: `task 2`, `tasks 1 and 3`; "" for none."""
    told = [str(number) for number in numbers]
    return f"task{'' if len(told) == 1 else 's'} {listed(told)}" if told else ""


def in_problem(name: str, problem: str) -> str:
    """Return what a line is called, with the title of its problem where students have others."""
    return f"{name} ({problem})" if problem else name


def way_round(turns: float) -> str:
    """Return in a word which way something turns: anticlockwise where that is above nothing."""
    return "anticlockwise" if turns > 0 else "clockwise"


def capital(text: str) -> str:
    """Return a text that begins with a capital letter."""
    return text[:1].upper() + text[1:]


def ended(told: str) -> str:
    """Return what is said with a full stop, where it ends without one, as with a unit."""
    return told if told.endswith((".", "?", "!")) else f"{told}."


def sentence(reason: object) -> str:
    """Return a reason, such as what an error says, as a sentence."""
    return f"{capital(str(reason))}."
