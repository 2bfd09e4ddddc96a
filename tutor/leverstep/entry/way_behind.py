"""The way that is said behind the value of a force: `182.8 N to the left`."""

from __future__ import annotations

import re
from collections.abc import Mapping

from leverstep.entry.answers_in_words import BACKWARD, DOWN, FORWARD, LEFT, RIGHT, UP
from leverstep.entry.tokens import LONGEST_ENTRY

_ACROSS = {
    **dict.fromkeys((*RIGHT, *FORWARD), ""),
    **dict.fromkeys((*LEFT, *BACKWARD, "back"), "-"),
}
_UPWARD = {**dict.fromkeys(UP, ""), **dict.fromkeys(DOWN, "-")}
_SIGNS: Mapping[str, Mapping[str, str]] = {"x": _ACROSS, "y": _UPWARD}
"""The sign of each way, by the axis that a component lies along."""
_SAID = re.compile(
    rf"(?P<symbol>[^=]*=)?\s*(?P<value>\d[\d.,]*\s*[A-Za-z]+)[\s,]+(?:straight\s+)?(?:to\s+the\s+)?"
    rf"(?P<way>{'|'.join(filter(str.isalpha, (*_ACROSS, *_UPWARD)))})\s*\.?",
    re.IGNORECASE,
)


def says_way(text: str) -> bool:
    """Return whether a value has a way behind it and no sign before it."""
    return _said(text) is not None


def way_as_sign(text: str, axis: str) -> str:
    """Return a component with its sign in place of the way behind it: `R_x = -182.8 N`.

    Any other text stays as it is: one that says no way, or one along another axis.

    Args:
        text: what was typed.
        axis: "x" or "y", along which the component lies.
    """
    said, signs = _said(text), _SIGNS[axis]
    if said is None or said["way"].lower() not in signs:
        return text
    return f"{said['symbol'] or ''} {signs[said['way'].lower()]}{said['value']}".strip()


def _said(text: str) -> re.Match[str] | None:
    return _SAID.fullmatch(text.strip()) if len(text) <= LONGEST_ENTRY else None
