"""The words and symbols before and behind a value, and the sorts and directions that words name."""

from __future__ import annotations

import re
from collections.abc import Set
from dataclasses import dataclass

from leverstep.entry.answers_in_words import BACKWARD, DOWN, FORWARD, LEFT, RIGHT, UP
from leverstep.statics.units import ANGLE, FORCE, LENGTH, MASS, MOMENT, NUMBER, POWER, STRESS

_SORTS: dict[str, tuple[str, ...]] = {
    "weight": ("weight", "weighs", "weigh", "gravity", "gewicht"),
    "mass": ("mass", "masses", "kilograms"),
    "moment": ("moment", "moments", "torque", "torques", "turning"),
    "arm": ("arm", "lever", "perpendicular", "leverage"),
    "distance": ("distance", "length", "com", "centre", "center", "cg", "from", "along", "act"),
    "angle": ("angle", "slope", "degrees", "direction", "inclination"),
    "ratio": ("advantage", "ratio", "coefficient"),
    "stress": ("stress",),
    "power": ("power",),
    "reaction": (
        "reaction", "joint", "contact", "pivot", "fulcrum", "trestle", "support", "axis", "bearing",
        "socket", "hinge", "resultant",
    ),
    "force": ("force", "pull", "muscle", "muscles", "effort", "tension", "push", "bite", "tendon"),
}  # fmt: skip

DIMENSION_OF_SORT = {
    "weight": FORCE, "force": FORCE, "reaction": FORCE, "mass": MASS, "moment": MOMENT,
    "arm": LENGTH, "distance": LENGTH, "angle": ANGLE, "ratio": NUMBER, "stress": STRESS,
    "power": POWER,
}  # fmt: skip

OF_MUSCLES = frozenset({"muscle", "muscles", "effort", "tendon"})
"""Words for a muscle, or for the force that it has."""
WORDS_OF_SORTS = frozenset(word for words in _SORTS.values() for word in words) - OF_MUSCLES
"""Words that tell what sort a quantity is of, and so no force by themselves: `arm`."""

_COVERED: tuple[tuple[str, frozenset[str]], ...] = (
    ("ratio", frozenset({"force", "weight", "arm", "distance", "moment"})),
    ("arm", frozenset({"moment", "force", "weight", "distance"})),
    ("moment", frozenset({"force", "weight", "reaction", "mass"})),
    ("angle", frozenset({"force", "reaction", "weight"})),
    ("distance", frozenset({"force", "weight", "reaction"})),
    ("mass", frozenset({"force"})),
    ("stress", frozenset({"force", "reaction"})),
    ("power", frozenset({"force", "moment"})),
    ("reaction", frozenset({"force"})),
    ("weight", frozenset({"force"})),
)
"""What a sort outweighs: `moment of the weight` speaks of a moment."""

_UP, _DOWN, _RIGHT, _LEFT = frozenset(UP), frozenset(DOWN), frozenset(RIGHT), frozenset(LEFT)
_FORWARD, _BACKWARD = frozenset(FORWARD), frozenset(BACKWARD)
_IN_FRONT = _RIGHT | {"front", "ahead"}
_BEHIND = _LEFT | {"behind"}
_ABOVE = _UP | {"above", "higher"}
_BELOW = _DOWN | {"below", "beneath", "under", "lower"}
"""Words for where a point lies; whoever is drawn faces to the right."""
_CLOCKWISE = frozenset({"cw", "clockwise"})
_ANTICLOCKWISE = frozenset({"ccw", "acw", "anticlockwise", "counterclockwise"})

DIRECTIONS: dict[str, frozenset[str]] = {
    "y": _UP | _DOWN,
    "x": _RIGHT | _LEFT | _FORWARD | _BACKWARD,
}
"""Words for a direction along an axis."""
AXES: dict[str, frozenset[str]] = {
    "y": frozenset({"vertical", "vertically", "vert", "y"}),
    "x": frozenset({"horizontal", "horizontally", "horiz", "hor", "x"}),
}
"""Words for an axis."""
_ALONG = {
    "y": frozenset(
        {"vertical", "vertically", "vert", "upwards", "downwards", "upward", "downward"}
    ),
    "x": frozenset(
        {"horizontal", "horizontally", "horiz", "hor", "sideways", "forwards", "backwards"}
    ),
}
"""Words for an axis that hardly mean anything else."""
_FROM_AXIS = re.compile(
    r"(?i)\b(?:to|from|below|above|under|with|and|than|off)\s+(?:the\s+)?(?:horizontal|vertical)\b"
)
_FROM_VERTICAL = re.compile(r"(?i)\b(?:to|from|with|off|of)\s+(?:the\s+)?vertical\b")
_SIDE_OF_BODY = re.compile(
    r"(?i)\b(?:left|right)\s+(?=(?:leg|arm|hand|foot|knee|hip|elbow|shoulder|side|over|for)s?\b)"
)
"""Which of two limbs, or what remains: neither tells a direction."""
_OF_LIMB = re.compile(
    r"(?i)\b(?:moment|torque)s?\s+of\s+(?:(?:the|my|his|her|whole|upper|lower)\s+)*arms?\b"
)
"""An arm that has a moment, and so is the part of the body."""
ACROSS = frozenset(
    {"perpendicular", "across", "turns", "turning", "angles", "rotates", "rotating", "rotary"}
    | {"shear", "transverse", "dwars", "loodrecht", "quer", "perpendiculaire", "perpendicolare"}
)
"""Words for the direction across the segment."""
ALONG = frozenset(
    {"along", "parallel", "axial", "lengthways", "lengthwise", "compression", "compressive"}
    | {"stabilising", "stabilizing", "langs", "längs", "parallèle", "paralelo", "paralela"}
)
"""Words for the direction of the segment."""
OF_COMPONENTS = frozenset(
    {"part", "component", "components", "across", "along", "perpendicular", "angles", "turns"}
).union(ALONG, *DIRECTIONS.values(), *AXES.values())
"""Words that say that a component is meant."""


@dataclass(frozen=True, slots=True)
class ValueLabel:
    """What stands beside a value: the words and the symbol before it, the words behind it.

    `of` are the words of the force whose symbol stands among the words, as in `arm of W`, `forces`
    the keys of such forces; `axis` is "x" or "y" where a component is said to be horizontal or
    vertical. `is_from_vertical` says that an angle is told from the vertical. `along` is 1 where
    they point along the segment away from its joint, -1 towards it.
    """

    words: frozenset[str]
    symbol: str = ""
    behind: frozenset[str] = frozenset()
    of: frozenset[str] = frozenset()
    axis: str = ""
    is_from_vertical: bool = False
    forces: frozenset[str] = frozenset()
    along: int = 0

    @property
    def beside(self) -> frozenset[str]:
        """Return the words before and behind the value."""
        return self.words | self.behind

    @property
    def is_empty(self) -> bool:
        """Return whether nothing stands before the value."""
        return not self.words and not self.symbol

    @property
    def sense(self) -> dict[str, int]:
        """Return the directions that words tell: `y` 1 up, `x` 1 right, `turn` 1 anticlockwise."""
        there = self.beside
        if self.behind and self.behind <= _FORWARD:  # before a value it may be said of anything
            there |= _RIGHT
        elif self.behind and self.behind <= _BACKWARD:
            there |= _LEFT
        found = {}
        for name, plus, minus in (
            ("y", _UP, _DOWN),
            ("x", _RIGHT, _LEFT),
            ("turn", _ANTICLOCKWISE, _CLOCKWISE),
        ):
            if bool(there & plus) != bool(there & minus):
                found[name] = 1 if there & plus else -1
        return found


def place_told(words: Set[str]) -> dict[str, int]:
    """Return where words say that a point lies: `x` 1 to the right or in front, `y` 1 above."""
    found = {}
    for axis, plus, minus in (("x", _IN_FRONT, _BEHIND), ("y", _ABOVE, _BELOW)):
        if bool(words & plus) != bool(words & minus):
            found[axis] = 1 if words & plus else -1
    return found


def label_of(before: str, symbol: str = "", behind: str = "") -> ValueLabel:
    """Return the label of a value.

    Args:
        before: what stands before it.
        symbol: the symbol that it is written for, "" where there is none.
        behind: what stands behind it.
    """
    indices = {part.lower() for part in symbol.split("_")[1:] if len(part) > 2}
    words = words_in(before)
    axis = "" if _FROM_AXIS.search(before) else _axis_told(words)
    is_from_vertical = _FROM_VERTICAL.search(f"{before} ; {behind}") is not None
    behind_words = words_in(behind)
    return ValueLabel(words | indices, symbol, behind_words, frozenset(), axis, is_from_vertical)


def _axis_told(words: Set[str]) -> str:
    """Return the axis that words call a value by, "" where none or both."""
    told = [axis for axis, along in _ALONG.items() if words & along]
    return told[0] if len(told) == 1 else ""


def words_for_axis(axis: str) -> frozenset[str]:
    """Return the words that tell an axis: "x", "y", or any other for that across the segment."""
    return DIRECTIONS.get(axis, ACROSS) | AXES.get(axis, ACROSS)


def words_in(text: str) -> frozenset[str]:
    """Return the words of a text in small letters, `anti-clockwise` as one."""
    text = re.sub(r"(?i)\b(?:anti|counter)[\s-]clockwise\b", "anticlockwise", text)
    text = _OF_LIMB.sub(r"\g<0> limb", _SIDE_OF_BODY.sub("", text))
    return frozenset(word.lower() for word in re.findall(r"[^\W\d_]+", text))


def sorts_named(words: Set[str], arm_is_limb: bool) -> frozenset[str]:
    """Return the sorts of quantities that words speak of, the most telling alone.

    Args:
        words: the words.
        arm_is_limb: whether the problem has a part of the body that is called an arm.
    """
    words = words | {word.removesuffix("s") for word in words}
    sorts = {sort for sort, there in _SORTS.items() if words & set(there)}
    is_limb = arm_is_limb or sorts & {"weight", "mass", "force"}
    if is_limb and not words & {"lever", "moment", "perpendicular", "leverage"}:
        sorts.discard("arm")
    if "limb" in words:
        sorts.discard("arm")
    if words & {"centre", "center", "com", "cg"}:
        sorts.discard("mass")  # `centre of mass`
    for telling, covered in _COVERED:
        if telling in sorts:
            sorts -= covered
    return frozenset(sorts)
