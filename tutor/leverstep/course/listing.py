"""What lists of problems are narrowed by, and headed with.

Light, since the command line names it at every start.
"""

from __future__ import annotations

ASKED = (
    "effort", "load", "mass", "distance", "angle", "support", "moment", "net moment", "reaction",
    "resultant", "two forces", "centre of mass",
)  # fmt: skip
"""What a problem may ask for."""

UNITS = ("SI", "US customary", "mixed units")
"""The systems of units that the givens of a problem may have."""

_JOINTS = {"plain": "Plain levers", "body": "Whole body", "lumbar": "Lumbar spine"}


def joint_name(joint: str) -> str:
    """Return what problems of a joint, as their files name it, are listed under."""
    return _JOINTS.get(joint, joint.capitalize())
