"""A direction that is typed as a bearing: `217°`, `at 217°`, `40° anticlockwise from the right`."""

from __future__ import annotations

import cmath
import math
import re

from leverstep.statics.reaction import code_of_direction

_NUMBER = r"(?P<number>[0-9]{1,3}(?:[.,][0-9]{1,3})?)"
_ROUND = r"(?:measured\s+)?(?:anti-?|counter-?)\s?clockwise"
_FROM = r"(?:from|to)\s+(?:the\s+)?(?:positive\s+|\+\s?)?(?:right|horizontal|x(?:[\s-]?axis)?)"
_BEARING = re.compile(
    r"\s*(?:R\s+|(?:the\s+)?(?:reaction|resultant)\s+)?(?:(?:points\s+)?at\s+|a?\s*bearing(?:\s+of)?\s+|∠\s*|[=:]\s*)*"
    rf"{_NUMBER}\s*(?:°|deg(?:rees?)?\b)(?P<said>\s*,?\s*(?:{_ROUND})?\s*(?:{_FROM})?)\s*\.?\s*",
    re.IGNORECASE,
)
_POSITIVE = re.compile(r"clockwise|positive|\+|right", re.IGNORECASE)


def bearing_typed(text: str) -> float | None:
    """Return the bearing that a text is, in degrees anticlockwise from the right, None for none.

    An angle of up to 90° is one only where it says so: else it may be one to either axis.
    """
    found = _BEARING.fullmatch(text)
    if found is None:
        return None
    degrees = float(found["number"].replace(",", "."))
    says_so = _POSITIVE.search(found["said"]) is not None or "bearing" in text.lower()
    return degrees if degrees <= 360 and (degrees > 90 or says_so) else None


def way_of_bearing(bearing: float) -> float:
    """Return the number that stands for the way a bearing points: up and left, down."""
    return code_of_direction(cmath.rect(1, math.radians(bearing)))
