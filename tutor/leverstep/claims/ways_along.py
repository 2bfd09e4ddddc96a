"""Which way along a segment words point: towards the joint that it turns about, or away."""

from __future__ import annotations

import re
from collections.abc import Set

_LIMBS = (
    ("trunk", "shoulder", "elbow", "forearm", "wrist", "hand", "fingers"),
    ("trunk", "hip", "thigh", "knee", "shin", "ankle", "foot", "toes"),
    ("pelvis", "lumbar", "trunk", "neck", "head"),
)
"""What lies one after the other along the body, from the trunk outwards."""
_TOWARDS = re.compile(r"\b(?:to|towards?|into)\s+(?:the\s+|my\s+|his\s+|her\s+)?([a-z]+)")
_AWAY = re.compile(r"\b(?:away\s+from|off|out\s+of)\s+(?:the\s+|my\s+|his\s+|her\s+)?([a-z]+)")


def way_along(text: str, axis: Set[str]) -> int:
    """Return 1 where words point away from the joint of a segment, -1 towards it, 0 where they do
    neither, or both.

    Args:
        text: what stands beside a value: `548 N towards the hand`.
        axis: the words for the joint.
    """
    text = text.lower()
    ways = {
        *(-_side(word, axis) for word in _AWAY.findall(text)),
        *(_side(word, axis) for word in _TOWARDS.findall(text)),
    } - {0}
    return ways.pop() if len(ways) == 1 else 0


def _side(word: str, axis: Set[str]) -> int:
    """Return on which side of a joint a part of the body lies: -1 at or before it, 1 beyond."""
    if word in axis:
        return -1
    for limb in _LIMBS:
        joint = next((place for place, part in enumerate(limb) if part in axis), None)
        if joint is not None and word in limb:
            return 1 if limb.index(word) > joint else -1
    return 0
