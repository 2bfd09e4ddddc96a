"""What a problem asks for, in a word or two: one of `listing.ASKED`."""

from __future__ import annotations

from leverstep.statics.posture import Find, Posture

_WITHOUT_BALANCE = {
    Find.NET_MOMENT: "net moment",
    Find.MOMENT_SUM: "moment",
    Find.REACTION: "reaction",
    Find.RESULTANT: "resultant",
    Find.TWO_FORCES: "two forces",
    Find.CENTRE_OF_MASS: "centre of mass",
    Find.LINE_OF_GRAVITY: "centre of mass",
}
"""What is found where no force balances others."""

_NO_ONE_JOINT = ("plain", "body")
"""Joints, as files name them, that no muscle turns: without ratios, a support is found there."""


def asked_of(posture: Posture, joint: str) -> str:
    """Return what is to be found of a posture of a joint."""
    last = posture.balancing
    if last is None:
        return _WITHOUT_BALANCE[posture.find]
    if last.at.sought:
        return "distance"
    if posture.sought_angle is not None:
        return "angle"
    if last is not posture.effort:
        return "mass" if posture.as_mass else "load"
    return "support" if joint in _NO_ONE_JOINT and not posture.ratios else "effort"
