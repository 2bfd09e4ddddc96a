"""What typed arithmetic has otherwise than the line that it should be."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing in typed arithmetic that is not as in the line that it should be.

    `about` is the key of a quantity, a number or a function of the line as it should be, "" for the
    whole line; where something is extra, it is what stands there. `typed` is what stands in its
    place, `power` the exponent that it should have. It is `unsigned` where its sign is wrong and
    none was typed. `line` is the line whose value that is, ""
    for none.
    """

    what: Literal[
        "missing",
        "inverted",
        "extra",
        "extra term",
        "added",
        "instead",
        "rounded",
        "sign",
        "unsigned",
        "function",
    ]
    about: str
    typed: str = ""
    power: float = 1.0
    line: str = ""
