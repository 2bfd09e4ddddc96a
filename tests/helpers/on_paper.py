"""Problems worked on paper: each answer as a formula, written from the statement alone.

Nothing of the tutor is used, and nothing that a problem file has beside its statement but the
shares of Dempster's segments, where the statement sends to that table. A force is a vector to the
right and up, a place is seen from the axis; `n` has the numbers of the statement, each in its unit
there. These are the tools; the problems of arms, legs and trunks stand in modules of their own.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from types import SimpleNamespace

import numpy as np

Numbers = SimpleNamespace
Answers = dict[str, float]
Vector = np.ndarray

ON_PAPER: dict[str, Callable[[Numbers], Answers]] = {}
"""By the name of each problem what gives its answers, in SI units and degrees."""

G, OTHER_G = 9.81, 9.8
CM, MM, INCH, POUND = 0.01, 0.001, 0.0254, 0.45359237
LBF = POUND * 9.80665
UP, DOWN = np.array([0.0, 1.0]), np.array([0.0, -1.0])
RIGHT, LEFT = np.array([1.0, 0.0]), np.array([-1.0, 0.0])


def paper(name: str) -> Callable[[Callable[[Numbers], Answers]], None]:
    """Keep the working of a problem under its name."""

    def keep(working: Callable[[Numbers], Answers]) -> None:
        ON_PAPER[name] = working

    return keep


def way(degrees: float) -> Vector:
    """Return one unit to a bearing, anticlockwise from the right."""
    return np.array([np.cos(np.radians(degrees)), np.sin(np.radians(degrees))])


def turn(place: Vector, force: Vector) -> float:
    """Return the moment of a force, anticlockwise positive."""
    return float(place[0] * force[1] - place[1] * force[0])


Acting = Iterable[tuple[Vector, Vector]]
"""Places, each with the force that acts there."""


def moments(acting: Acting) -> float:
    """Return the sum of the moments."""
    return sum(turn(place, force) for place, force in acting)


def held(arm: float, pull: Vector, acting: Acting, couple: float = 0) -> tuple[float, Vector]:
    """Return the force that balances all, with the reaction at the axis.

    Args:
        arm: its moment for one newton, anticlockwise positive.
        pull: one unit along it.
        acting: the other forces.
        couple: a moment beside theirs.
    """
    acting = list(acting)
    force = -(moments(acting) + couple) / arm
    return force, -(sum(one for _, one in acting) + force * pull)


def tied(place: Vector, pull: Vector, acting: Acting, couple: float = 0) -> tuple[float, Vector]:
    """Return the same for a force that acts at a known place."""
    return held(turn(place, pull), pull, acting, couple)


def angle(force: Vector) -> float:
    """Return the acute angle of a force to the horizontal, in degrees."""
    return float(np.degrees(np.arctan2(abs(force[1]), abs(force[0]))))


def reaction(force: Vector) -> Answers:
    """Return a slanting reaction by its lines."""
    size = float(np.hypot(*force))
    return {"R_x": force[0], "R_y": force[1], "R": size, "phi_R": angle(force)}


def across(force: Vector, along: float) -> tuple[float, float]:
    """Return the parts of a force along a segment at a bearing, and to its upper side."""
    upper = way(along + 90)
    upper = upper if upper[1] > 0 else -upper
    return float(force @ way(along)), float(force @ upper)


def slanting(
    along: float, place: float, slant: float, weights: Iterable[tuple[float, float]],
    couple: float = 0,
) -> tuple[float, Vector]:  # fmt: skip
    """Return the pull of a muscle on the upper side of a segment, with the reaction at the axis.

    Args:
        along: the bearing of the segment, which runs to the right.
        place: where it is attached, along the segment.
        slant: its angle to the line back to the axis, in degrees.
        weights: places along the segment, each with its mass in kilograms.
        couple: a moment beside theirs, with all places in metres then.
    """
    segment = way(along)
    acting = [(reach * segment, mass * G * DOWN) for reach, mass in weights]
    return tied(place * segment, way(180 + along - slant), acting, couple)
