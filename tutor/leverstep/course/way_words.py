"""Ways in plain words, however they are written: `up left` for ↖, for up/left, for upper left."""

from __future__ import annotations

import re

ARROWS = {
    "↑": "up", "↓": "down", "←": "left", "→": "right",
    "↗": "up right", "↖": "up left", "↘": "down right", "↙": "down left",
}  # fmt: skip
"""Arrows, and the ways that they point."""
_ARROW = re.compile(f"[{''.join(ARROWS)}]")
_CORNER = re.compile(r"\b(upper|top|lower|bottom)[\s/-]+(?=(?:left|right)\b)", re.IGNORECASE)
"""A word that tells up or down where left or right follows it, and only there."""
_STROKE = re.compile(r"\b(up|down|left|right)\s*/\s*(?=(?:up|down|left|right)\b)", re.IGNORECASE)


def arrows_told(text: str) -> str:
    """Return a text with its arrows in words."""
    return _ARROW.sub(lambda arrow: f" {ARROWS[arrow[0]]} ", text).strip()


def ways_told(text: str) -> str:
    """Return what tells a way with its arrows, corners and strokes in words."""
    text = _CORNER.sub(lambda one: "up " if one[1].lower() in ("upper", "top") else "down ", text)
    return arrows_told(_STROKE.sub(r"\1 ", text))
