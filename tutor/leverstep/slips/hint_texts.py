"""Texts of hint files: whether they fit their place, and their placeholders filled."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection

from leverstep.course.faults import Reader

_PLACEHOLDER = re.compile(r"\{([^{}]*)\}")


def check_short(reader: Reader, key: str, text: str, most: int) -> None:
    """Note a fault where a text is too long for its place."""
    if len(text) > most:
        reader.fault(key, f"found {len(text)} characters", f"at most {most} characters")


def check_places(reader: Reader, key: str, text: str, known: Collection[str]) -> None:
    """Note a fault for every placeholder of a text that stands for nothing that is `known`."""
    if set("{}") & set(_PLACEHOLDER.sub("", text)):
        reader.fault(key, "found an unmatched brace", "{ and } in pairs")
    for name in _PLACEHOLDER.findall(text):
        if name not in known:
            found = f"{{{name}}} stands for nothing{reader.near(name, known)}"
            reader.fault(key, found, "one of " + ", ".join(sorted(known)))


def with_places(text: str, value: Callable[[str], str]) -> str:
    """Return a text that was checked with each placeholder filled, by the `value` of its name."""
    return _PLACEHOLDER.sub(lambda place: value(place[1]), text)
