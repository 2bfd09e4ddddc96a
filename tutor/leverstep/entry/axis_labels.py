"""What stands before an equation of forces and says along which axis it is: `x:`, `↑:`, `ΣFy =`."""

from __future__ import annotations

import re
from typing import NamedTuple

_LEVEL = r"(?P<x>x|h|→|←|->|<-|hor(?:iz(?:ontal(?:ly)?)?)?\.?)"
_UPRIGHT = r"(?P<y>y|v|↑|↓|vert(?:ical(?:ly)?)?\.?)"
_AXIS = rf"(?:{_LEVEL}|{_UPRIGHT})"
_DIRECTION = rf"{_AXIS}(?:[\s-]*(?:axis|direction|forces?|equation))?"
_SUM = rf"(?:Σ|∑|sum(?:\s+of)?)\s*(?:the\s+)?(?:F|forces)?\s*_?\(?{_AXIS}\)?"
_LABELS = (
    re.compile(rf"\s*(?:in\s+)?(?:the\s+)?(?:F_?)?{_DIRECTION}\s*[:;]\s*(?=\S)", re.IGNORECASE),
    re.compile(rf"\s*\(?{_AXIS}\)\s*(?=\S)", re.IGNORECASE),
    re.compile(r"\s*(?:(?P<x>→|←|->|<-)|(?P<y>↑|↓))\s*(?=\S)"),
    re.compile(rf"\s*{_SUM}\s*(?:=\s*0\s*)?[:;,]\s*(?=\S)", re.IGNORECASE),
    re.compile(rf"\s*{_SUM}\s*=\s*(?=[^=]{{1,400}}=)", re.IGNORECASE),
    re.compile(rf"\s*{_SUM}\s*=\s*0\s*=\s*(?=\S)", re.IGNORECASE),
)


class Labelled(NamedTuple):
    """An equation behind its label; `axis` is "x" or "y", "" where there is no label."""

    axis: str
    text: str


def after_axis_label(text: str) -> Labelled:
    """Return an equation of forces without the label before it, and the axis that this names."""
    for label in _LABELS:
        if said := label.match(text):
            rest = text[said.end() :]
            is_whole = "=" in rest or "=" not in said.group()
            return Labelled("x" if said["x"] else "y", rest if is_whole else f"0 = {rest}")
    return Labelled("", text)
