"""A body of several parts as vectors, read from what a posture's fields are documented to mean.

Nothing of the product's geometry or of its derivation is used, so that what these give can be laid
beside it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import cos, radians, sin

import numpy as np
from leverstep.statics.acting import Force
from leverstep.statics.derivation import derive
from leverstep.statics.graph import Values, graph
from leverstep.statics.points import Direction, Distance, Offset
from leverstep.statics.posture import Posture
from scipy import constants as nist

from helpers.equilibrium import FORCES, LENGTHS, WEIGHED

EXACT = {
    "g": nist.g,
    "pounds_per_kilogram": 1 / nist.pound,
    "newtons_per_pound": nist.pound_force,
    "kilograms_per_stone": 14 * nist.pound,
    "kilograms_per_ounce": nist.pound / 16,
}
UNITS = {"x": np.array([1.0, 0.0]), "y": np.array([0.0, 1.0])}


@dataclass(frozen=True)
class Body:
    """A posture whose centre of mass is to be found, and its numbers."""

    posture: Posture
    numbers: Mapping[str, float]

    def values(self) -> Values:
        """Return what the product makes of it."""
        return graph(derive(self.posture, self.numbers)).values(self.numbers, EXACT)

    def metres(self, distance: Distance) -> float:
        """Return a distance, negative where it leads back."""
        if distance.of is not None:
            whole = next(d for d in self.posture.distances if d.symbol == distance.of)
            return self.numbers[distance.given.key] * self.metres(whole)
        size = self.numbers[distance.given.key] * LENGTHS[distance.given.unit]
        return -size if distance.beyond else size

    def offset(self, offset: Offset) -> np.ndarray:
        """Return where an offset leads to."""
        across, up = (0.0 if d is None else self.metres(d) for d in (offset.across, offset.up))
        return np.array([across, up])

    def point(self, name: str) -> np.ndarray:
        """Return where a point of the body is."""
        if not name:
            return np.zeros(2)
        point = next(one for one in self.posture.body_points if one.name == name)
        if point.offset is not None:
            return self.offset(point.offset)
        return self.point(point.start) + self.metres(point.length) * self.way(point.direction)

    def way(self, direction: Direction) -> np.ndarray:
        """Return the unit vector of a direction."""
        right = 1 if direction.toward == "right" else -1
        up = 1 if direction.side == "above" else -1
        angle = 0.0 if direction.angle is None else radians(self.numbers[direction.angle.key])
        if direction.reference == "bearing":
            right = up = 1
        line, leaning = right * UNITS["x"], up * UNITS["y"]
        if direction.reference == "vertical":
            line, leaning = leaning, line
        if direction.angle is None:
            return line
        return cos(angle) * line + sin(angle) * leaning

    def part(self, load: Force) -> np.ndarray:
        """Return where the centre of mass of a part is."""
        if load.between is not None:
            start, end = self.point(load.between.start), self.point(load.between.end)
            return start + self.numbers[load.between.fraction.key] * (end - start)
        if load.offset is not None:
            return self.offset(load.offset)
        return np.zeros(2) if not load.at.symbol else self.metres(load.at) * UNITS["x"]

    def kilograms(self, load: Force) -> float:
        """Return the mass of a part."""
        share, given = 1.0, load.magnitude
        if load.share is not None:
            share, given = self.numbers[load.share.given.key], self.posture.body
        number = share * self.numbers[given.key]
        return number * (WEIGHED.get(given.unit) or FORCES[given.unit] / nist.g)

    def centre(self) -> np.ndarray:
        """Return where the centre of mass is, as numpy averages it."""
        places = [self.part(load) for load in self.posture.loads]
        weights = [self.kilograms(load) for load in self.posture.loads]
        return np.average(places, axis=0, weights=weights)
