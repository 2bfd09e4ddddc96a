"""The axes that forces are resolved along, with what a line along each of them is."""

from __future__ import annotations

from dataclasses import dataclass

from leverstep.statics import kinds
from leverstep.statics.acting import Force
from leverstep.statics.kinds import Kind
from leverstep.statics.line_keys import resolved_key
from leverstep.statics.posture import Axes


@dataclass(frozen=True, slots=True)
class ForceAxis:
    """One axis of a pair.

    `letter` is what stands behind the symbol of a force for its component along it. `is_first` is
    True for the axis that angles are measured from, so that the cosine goes with it.
    """

    letter: str
    pair: Axes
    is_first: bool
    component: Kind
    reaction: Kind

    def component_key(self, force: Force) -> str:
        """Return the key of the component of a force along it: `F_mx` of `F_m`."""
        return resolved_key(self.letter, force.symbol, force.mark)


HORIZONTAL = ForceAxis("x", Axes.LEVEL, True, kinds.COMPONENT_X, kinds.REACTION_X)
VERTICAL = ForceAxis("y", Axes.LEVEL, False, kinds.COMPONENT_Y, kinds.REACTION_Y)
AXIAL = ForceAxis("a", Axes.SEGMENT, True, kinds.COMPONENT_AXIAL, kinds.REACTION_AXIAL)
TRANSVERSE = ForceAxis(
    "t", Axes.SEGMENT, False, kinds.COMPONENT_TRANSVERSE, kinds.REACTION_TRANSVERSE
)

PAIRS: dict[Axes, tuple[ForceAxis, ForceAxis]] = {
    Axes.LEVEL: (HORIZONTAL, VERTICAL),
    Axes.SEGMENT: (AXIAL, TRANSVERSE),
}
"""The two axes of each pair, the first before the second."""

_LEVEL = {
    **dict.fromkeys((kinds.COMPONENT_X, kinds.REACTION_X, kinds.RESULTANT_X), "x"),
    **dict.fromkeys((kinds.COMPONENT_Y, kinds.REACTION_Y, kinds.RESULTANT_Y), "y"),
}


def level_axis(kind: Kind, force: Force | None) -> str:
    """Return the axis of a line of a component: "x" or "y", "" for any other line.

    What another segment hands on is a `force` along one of them.
    """
    if kind is kinds.HANDED_FORCE and force is not None:
        return "x" if force.direction.reference == "horizontal" else "y"
    return _LEVEL.get(kind, "")
