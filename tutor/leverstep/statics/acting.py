"""What acts on a segment: forces, what the size of one comes from, and couples."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from leverstep.statics.line_keys import attachment_angle_key, beside, mass_key
from leverstep.statics.points import Between, Direction, Distance, Given, Offset, Rows


@dataclass(frozen=True, slots=True)
class Share:
    """A force given as a share of the body: of its mass (a segment) or of its weight.

    `rows` are the other rows of the table that it was looked up in.
    """

    given: Given
    of: Literal["mass", "weight"]
    rows: Rows = ()


@dataclass(frozen=True, slots=True)
class MuscleSize:
    """A muscle's force as its cross-section area times its specific tension."""

    area: Given
    tension: Given

    @property
    def givens(self) -> tuple[Given, ...]:
        """Return what the problem gives for it."""
        return self.area, self.tension


@dataclass(frozen=True, slots=True)
class BandSize:
    """The force of an elastic band: its stiffness times its stretch, length less rest length."""

    stiffness: Given
    length: Given
    rest: Given

    @property
    def givens(self) -> tuple[Given, ...]:
        """Return what the problem gives for it."""
        return self.stiffness, self.length, self.rest


@dataclass(frozen=True, slots=True)
class InertiaSize:
    """The inertial force of a part that is sped up: its mass times its acceleration.

    `mass` is that of the force whose symbol is `of`, given there.
    """

    of: str
    mass: Given
    acceleration: Given

    @property
    def givens(self) -> tuple[Given, ...]:
        """Return what the problem gives for it."""
        return (self.acceleration,)


@dataclass(frozen=True, slots=True)
class SharedSize:
    """The force of a muscle that shares a moment with the effort, by a rule.

    It is so many times the effort as `own` is of `other`, which are areas in one unit, or as `own`
    says where there is no other. It is found with the effort.
    """

    own: Given
    other: Given | None = None

    @property
    def givens(self) -> tuple[Given, ...]:
        """Return what the problem gives for it."""
        return (self.own,) if self.other is None else (self.own, self.other)


SizeSource = MuscleSize | BandSize | InertiaSize | SharedSize
"""Where the size of a known force comes from, where that is neither given nor a share."""


@dataclass(frozen=True, slots=True)
class Force:
    """A force on the segment; `magnitude` is None for the one that is to be found.

    With a `share` of the body, `magnitude` is what follows from it: a mass in kg, or a force in N.
    `offset` is its point where that lies off the line of the segment, `between` where that lies
    between two points of the body; `at` is then `AT_AXIS`.
    `turns` is +1 (counter-clockwise) or -1 where only the perpendicular moment arm is given, so
    that the sense of the moment cannot be seen from the point and the direction. `own_weight`
    marks the weight of the segment itself, `called_weight` a force that its author calls one.
    `mark` is that of its posture, in the keys of the lines about it. `before` is the key of the
    line of an earlier posture that it follows from: its own, where it acts there too, or that of a
    component of the reaction, which acts here turned round.
    With a `source`, `magnitude` is what follows from that, in N. An `antagonist` is a muscle that
    works against the effort, and no resistance that is overcome.
    """

    symbol: str
    at: Distance
    direction: Direction
    magnitude: Given | None = None
    turns: int | None = None
    own_weight: bool = False
    share: Share | None = None
    offset: Offset | None = None
    called_weight: bool = False
    mark: str = ""
    before: str = ""
    between: Between | None = None
    source: SizeSource | None = None
    antagonist: bool = False

    @property
    def stretch_key(self) -> str:
        """Return the key of the stretch of an elastic band: `x_b` of `F_b`."""
        return beside("x", self.symbol)

    @property
    def is_shared(self) -> bool:
        """Return whether it shares a moment with the effort, and is found with that."""
        return isinstance(self.source, SharedSize)

    @property
    def rule_key(self) -> str:
        """Return the key of how many times the effort it is: `k_b` of `F_b`, or of the given."""
        assert isinstance(self.source, SharedSize), f"{self.symbol} shares by a rule"
        return self.source.own.key if self.source.other is None else self.line_key("k")

    @property
    def is_inertia(self) -> bool:
        """Return whether it is the inertial force of a part that is sped up."""
        return isinstance(self.source, InertiaSize)

    @property
    def is_handed_on(self) -> bool:
        """Return whether it is what another segment does to this one, and so may have a sign."""
        return self.before not in ("", self.symbol)

    @property
    def is_weight(self) -> bool:
        """Return whether it is a weight: called one, or given by a mass."""
        return self.called_weight or (self.magnitude is not None and self.magnitude.is_mass)

    @property
    def segment_angle_key(self) -> str:
        """Return the key of the angle between it and the segment: `gamma_m` of `F_m`."""
        return attachment_angle_key(self.symbol, self.mark)

    @property
    def mass_key(self) -> str:
        """Return the key of the mass whose weight it is: `m_l` of `W_l`."""
        return mass_key(self.symbol)

    @property
    def at_axis(self) -> bool:
        """Return whether it acts through the axis itself, and so has no moment."""
        return not self.at.symbol and self.offset is None and self.between is None

    @property
    def is_placed(self) -> bool:
        """Return whether it acts at a place along the segment that is stated or to be found.

        A moment arm alone does not say where along the segment a force acts.
        """
        return bool(self.at.symbol) and not self.at.perpendicular and self.offset is None

    def line_key(self, letter: str) -> str:
        """Return the key of a line about it, by the letter of that: `M_l` of `W_l`."""
        return beside(letter, self.symbol, self.mark)

    @property
    def symbols(self) -> tuple[str, ...]:
        """Return the symbols that stand for it: its own, and those of its point."""
        points = (self.at,) if self.offset is None else self.offset.distances
        ends = self.direction.attachment
        points += () if ends is None else (ends.along, ends.off)
        return tuple(s for s in (self.symbol, *(point.symbol for point in points)) if s)


@dataclass(frozen=True, slots=True)
class Couple:
    """A known moment without a force, as of two equal and opposite ones: the same about any axis.

    `magnitude` is a given of its own symbol, in N·m; `turns` is +1 (counter-clockwise) or -1, where
    it is positive. `before` is the key of the net moment of an earlier posture that it is, turned
    round, and so may have either sign; else it is "".
    """

    symbol: str
    magnitude: Given
    turns: int
    before: str = ""

    @property
    def moment_key(self) -> str:
        """Return the key of its moment, with its sign: `M_b` of `C_b`."""
        return beside("M", self.symbol)
