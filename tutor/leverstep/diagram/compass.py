"""Ways in words: up and down from the side, top and bottom of a plan from above."""

from __future__ import annotations

from leverstep.statics.points import Distance, Offset

WAYS = {
    "side": ("up", "down"),
    "above": ("towards the top of the plan", "towards the bottom of the plan"),
}
LINES = {
    "side": {"horizontal": "horizontal", "vertical": "vertical"},
    "above": {
        "horizontal": "line across the plan",
        "vertical": "line from the bottom to the top of the plan",
    },
}
"""Ways and lines in words, by where a problem is seen from."""


def side_of(offset: Offset, part: Distance, seen_from: str) -> str:
    """Return to which side of a place one distance of an offset leads: `right of`, `below`."""
    if part is offset.across:
        return "left of" if part.beyond else "right of"
    if seen_from == "above":
        return f"{WAYS[seen_from][part.beyond]} from"
    return "below" if part.beyond else "above"


def measured_from(reference: str, seen_from: str = "side") -> str:
    """Return in words from where an angle is measured that is none to the segment."""
    if reference == "bearing":
        return "counted from the right upwards and on round"
    return f"to the {LINES[seen_from][reference]}"


def compass(direction: complex, seen_from: str = "side") -> str:
    """Return a direction in words: `straight down`, `up and to the left`."""
    up = WAYS[seen_from][0 if direction.imag > 0 else 1]
    across = "to the right" if direction.real > 0 else "to the left"
    if abs(direction.real) < 1e-6:
        return f"straight {up}"
    if abs(direction.imag) < 1e-6:
        return f"straight {across}"
    return f"{up} and {across}"
