"""What lists of problems are narrowed by, and headed with.

Light, since the command line names it at every start.
"""

from __future__ import annotations

KINDS = {
    "effort": "muscle force or effort",
    "load": "load held in balance",
    "mass": "mass held in balance",
    "distance": "where a force acts",
    "angle": "angle of balance",
    "support": "one unknown force",
    "moment": "moments of forces",
    "net moment": "net moment at a joint",
    "reaction": "joint reaction alone",
    "resultant": "resultant of several forces",
    "two forces": "two unknown forces",
    "centre of mass": "centre of mass",
}
"""What a problem may ask for, and what that kind of problem is called to students."""

ASKED = tuple(KINDS)
"""What a problem may ask for."""

UNITS = ("SI", "US customary", "mixed units")
"""The systems of units that the givens of a problem may have."""

_JOINTS = {"plain": "Plain levers", "body": "Whole body", "lumbar": "Lumbar spine"}


def joint_name(joint: str) -> str:
    """Return what problems of a joint, as their files name it, are listed under."""
    return _JOINTS.get(joint, joint.capitalize())
