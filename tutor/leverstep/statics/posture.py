"""A described posture: one segment, its axis, the forces on it, and what is given of each.

A posture holds no numbers, only which quantities are given and in which unit; the numbers of one
student are a mapping from each given's key to its value. Angles are in degrees.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import Enum
from typing import Literal

from leverstep.statics.kinds import Kind
from leverstep.statics.units import MASS, TABLE, metres

Numbers = Mapping[str, float]
"""The value of each given, by `Given.key`, in the given's own unit."""


Rows = tuple[tuple[str, float], ...]
"""Rows of a table beside the right one: each its name and its share."""


@dataclass(frozen=True, slots=True)
class Given:
    """One number that the problem states: its key, the sign it is written with, and its unit."""

    key: str
    sign: str
    unit: str = ""

    @property
    def is_mass(self) -> bool:
        """Return whether it is given in a unit of mass."""
        return self.unit in TABLE and TABLE[self.unit].dimension == MASS


@dataclass(frozen=True, slots=True)
class FromOthers:
    """How a distance follows from others that are known.

    It is the sum of those in `of`, the difference of the first and the second, or the one there is
    times the sine or cosine of `angle`.
    """

    how: Literal["sum", "difference", "sine", "cosine"]
    of: tuple[str, ...]
    angle: Given | None = None

    @property
    def written(self) -> str:
        """Return it as one writes it, with `{symbol}` for each quantity: `{L} + {d_g}`."""
        if self.angle is not None:
            function = "sin" if self.how == "sine" else "cos"
            return f"{{{self.of[0]}}} × {function}({{{self.angle.key}}})"
        mark = " + " if self.how == "sum" else " − "
        return mark.join(f"{{{symbol}}}" for symbol in self.of)

    def value(self, known: Mapping[str, float], numbers: Numbers) -> float:
        """Return it in metres, by the distances known so far and the angle in degrees."""
        first, *others = (known[symbol] for symbol in self.of)
        if self.angle is not None:
            function = math.sin if self.how == "sine" else math.cos
            return first * function(math.radians(numbers[self.angle.key]))
        return first + sum(others) * (1 if self.how == "sum" else -1)


@dataclass(frozen=True, slots=True)
class Distance:
    """A distance along the segment from the axis: measured, or worked out from other distances.

    `of` names the other distance where `given` is a fraction, `derived` says how it follows from
    others in another way. `beyond` says that the point lies on
    the far side of the axis, where the segment is prolonged past the joint. `perpendicular` says
    that the distance is already the moment arm. `sought` says that it is to be found. `rows` are
    the other rows of the table that a fraction was looked up in.
    """

    symbol: str
    given: Given
    of: str | None = None
    beyond: bool = False
    perpendicular: bool = False
    sought: bool = False
    rows: Rows = ()
    derived: FromOthers | None = None

    @property
    def rests_on(self) -> tuple[str, ...]:
        """Return the distances that it is worked out from, none where it is measured or sought."""
        if self.derived is not None:
            return self.derived.of
        return () if self.of is None else (self.of,)

    @property
    def is_measured(self) -> bool:
        """Return whether it is given as a length."""
        return not (self.rests_on or self.sought)


Advantage = Literal["resistance over effort", "ratio of arms", "none"]
"""What a course calls mechanical advantage: a ratio of forces, or of moment arms."""

AT_AXIS = Distance("", Given("", "", "m"))
"""Where a force acts through the axis itself, at no distance from it."""


@dataclass(frozen=True, slots=True)
class Offset:
    """A point beside the axis: `across` to the right of it (`beyond`: left), `up` above (below).

    Either may be None, where the point lies straight above or straight beside the axis.
    """

    across: Distance | None
    up: Distance | None

    @property
    def distances(self) -> tuple[Distance, ...]:
        """Return the distances that there are."""
        return tuple(part for part in (self.across, self.up) if part is not None)


@dataclass(frozen=True, slots=True)
class Between:
    """A place between two points of the body: so large a share of the way from one to the other.

    `start` and `end` name points of the body, "" the axis; `rows` are the other rows of the table
    that the share was looked up in.
    """

    start: str
    end: str
    fraction: Given
    rows: Rows = ()


@dataclass(frozen=True, slots=True)
class Attachment:
    """Where the far end of a muscle is attached, seen along the segment that it moves.

    `along` is its distance from the axis along the segment (`beyond`: past the axis), `off` how far
    it lies from the line of the segment.
    """

    along: Distance
    off: Distance


@dataclass(frozen=True, slots=True)
class Direction:
    """Where a force points: along a reference line, or turned from it by a given angle.

    `reference` is the line that `angle` is measured from. `toward` is the end of that line that the
    force leans to ("axis" or "end" of a segment, "left" or "right", and for the vertical the side
    it leans to); `side` says whether the force points above or below. Without an angle, `reference`
    "vertical" with a side is straight up or down, "horizontal" with `toward` is straight left or
    right, and "segment" with a side is perpendicular to the segment; with the side "along" it lies
    along the segment, to the end that `toward` names. With an `attachment` the angle
    to the segment is not given, but follows from the two ends of the muscle.
    """

    reference: Literal["segment", "horizontal", "vertical"]
    angle: Given | None = None
    toward: Literal["axis", "end", "left", "right"] | None = None
    side: Literal["above", "below", "along"] = "above"
    attachment: Attachment | None = None


@dataclass(frozen=True, slots=True)
class BodyPoint:
    """A joint, or another end of a body part: told from the axis, or by the way that leads to it.

    An `offset` tells it from the axis. Else it lies `length` away in `direction` from the point
    called `start`, the axis where that is ""; its coordinates are then x and y with the `suffix`.
    """

    name: str
    suffix: str = ""
    offset: Offset | None = None
    start: str = ""
    length: Distance | None = None
    direction: Direction | None = None

    @property
    def distances(self) -> tuple[Distance, ...]:
        """Return the distances that tell where it lies."""
        if self.offset is not None:
            return self.offset.distances
        return () if self.length is None else (self.length,)


@dataclass(frozen=True, slots=True)
class Support:
    """The base of support on the floor: how far its two edges lie across from the axis.

    An edge is None where it lies at the axis; `beyond` puts one on the left.
    """

    left: Distance | None
    right: Distance | None

    @property
    def distances(self) -> tuple[Distance, ...]:
        """Return the distances that there are."""
        return tuple(edge for edge in (self.left, self.right) if edge is not None)


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
        return f"x{self.suffix}"

    @property
    def is_shared(self) -> bool:
        """Return whether it shares a moment with the effort, and is found with that."""
        return isinstance(self.source, SharedSize)

    @property
    def rule_key(self) -> str:
        """Return the key of how many times the effort it is: `k_b` of `F_b`, or of the given."""
        assert isinstance(self.source, SharedSize), f"{self.symbol} shares by a rule"
        return self.source.own.key if self.source.other is None else f"k{self.tail}"

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
        return f"gamma{self.tail}"

    @property
    def mass_key(self) -> str:
        """Return the key of the mass whose weight it is: `m_l` of `W_l`."""
        return f"m{self.suffix}"

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

    @property
    def suffix(self) -> str:
        """Return what follows the first letter of the symbol: `_l` of `W_l`."""
        return self.symbol[1:]

    @property
    def tail(self) -> str:
        """Return what follows the letter in the keys of the lines about it: `_l` in `M_l`."""
        return self.suffix + self.mark

    @property
    def symbols(self) -> tuple[str, ...]:
        """Return the symbols that stand for it: its own, and those of its point."""
        points = (self.at,) if self.offset is None else self.offset.distances
        ends = self.direction.attachment
        points += () if ends is None else (ends.along, ends.off)
        return tuple(s for s in (self.symbol, *(point.symbol for point in points)) if s)


class Axes(Enum):
    """A pair of axes at right angles; the value is what a problem file calls it."""

    LEVEL = "horizontal and vertical"
    """Right and up are positive."""

    SEGMENT = "along and across"
    """Along the segment, positive from the axis to its end; across it, positive to its upper side.

    The upper side of an upright segment is the one that it has as it begins to lean.
    """


class Relation(Enum):
    """How something further follows from what was found; the value is what a problem file says."""

    STRESS = "stress"
    """A force over the area that bears it."""

    BODY_WEIGHTS = "body weights"
    """A force as a multiple of the body's weight."""

    OTHER_UNIT = "other unit"
    """A force in another unit than newtons."""

    FRICTION_NEEDED = "friction needed"
    """The least coefficient of static friction with which a support does not slip."""

    FRICTION_ENOUGH = "friction enough"
    """Whether a support holds or slips, with a coefficient that is given."""

    PART_SHARED = "part shared"
    """The part of a force or moment that falls to one of those that share it by a rule."""

    MOMENT_SPED_UP = "moment sped up"
    """The net moment of the muscles where they also speed the segment up."""

    POWER = "power"
    """A moment times an angular velocity."""

    DISTANCE_MOVED = "distance moved"
    """How far the point of one force moves along its line while that of another moves so far."""

    SPEED = "speed"
    """How fast the point of one force moves along its line while that of another moves so fast."""

    RATIO = "ratio"
    """One quantity over another of its sort."""


@dataclass(frozen=True, slots=True)
class Further:
    """Something worked out from what was found, by one relation.

    `of` is the key of the quantity that it is worked out from, `over` that of a second one where
    two are compared. `given` is what the problem gives for it, such as an area; `others` are the
    areas of the others that share, or the angular acceleration with a moment of inertia; `turns` is
    then its sense, +1 counter-clockwise. `unit` is the sign of the unit it is asked for in.
    """

    symbol: str
    relation: Relation
    of: str
    over: str = ""
    given: Given | None = None
    others: tuple[Given, ...] = ()
    unit: str = ""
    turns: int = 0

    @property
    def givens(self) -> tuple[Given, ...]:
        """Return all that the problem gives for it."""
        return self.others if self.given is None else (self.given, *self.others)


class Find(Enum):
    """What a posture leaves to be found; the value is what a problem file calls it."""

    BALANCE = ""
    """The one force or distance that is left open: it balances the moments of all others."""

    NET_MOMENT = "moment"
    """The net moment of the muscles about the axis."""

    MOMENT_SUM = "moment sum"
    """No more than the sum of the moments."""

    REACTION = "reaction"
    """Only the reaction to forces that all pass through the axis."""

    RESULTANT = "resultant"
    """The one force that does what several through the axis do together."""

    TWO_FORCES = "two forces"
    """The sizes of two forces of known directions, which balance the others through the axis."""
    CENTRE_OF_MASS = "centre of mass"
    """Where the centre of mass of all parts together lies, seen from the axis."""

    LINE_OF_GRAVITY = "line of gravity"
    """No more than how far across from the axis that is."""


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
        return f"M{self.symbol[1:]}"


@dataclass(frozen=True, slots=True)
class Posture:
    """A rigid segment held still about a joint axis, with one thing to be found.

    `find` says what that is. Where it is a balance, that is the force whose size is not given, most
    often the effort, or the one distance that is `sought`; `as_mass` asks for the mass of a load
    found too.

    `points` is the way the segment runs from the axis; `inclination` its given angle to the
    horizontal, `rises` False where the segment falls from the axis. `positive` is +1 where
    counter-clockwise moments count as positive. `by_components` says that a force that is not
    perpendicular to the segment is resolved, instead of finding its moment arm.

    `advantage` says what mechanical advantage is, "none" where it is not asked for. `arm_ratio_of`
    names the load whose arm the effort's arm is compared with: on a line of its own, or on that of
    the advantage where that is the ratio of arms. `class_asked` True or False says outright whether
    the class of lever is asked for. `ratios` False leaves all of these out, since the effort is
    that of no lever; `reaction` False leaves out the joint reaction.
    `resolved` has the axes that forces and the reaction are resolved along. `compression` asks too
    whether the reaction presses the segment together lengthwise or pulls at it.
    `body` is the body's mass, where forces are shares or multiples of its weight. `further` is what
    is worked out from what was found, in this order. `mark` stands behind the keys of its
    lines where a working has several postures, to tell them apart; else it is "".
    `pieces` are distances that no force acts at, from which others are made up.
    `couples` turn the segment, but are no forces. `sought_angle` is the angle to be found, of the
    segment to the horizontal or of a force to the segment, in degrees and less than 90.

    Where a centre of mass is to be found, the loads are the weights of the parts of a body and the
    axis is the origin that all is counted from. `body_points` are the joints between the parts,
    each after the one it is told from, and `support` is the base that the body stands on.
    """

    effort: Force | None
    loads: tuple[Force, ...]
    length: Distance | None = None
    inclination: Given | None = None
    points: Literal["left", "right"] = "right"
    rises: bool = True
    positive: int = 1
    by_components: bool = False
    advantage: Advantage = "resistance over effort"
    arm_ratio_of: str | None = None
    reaction: bool = True
    ratios: bool = True
    find: Find = Find.BALANCE
    class_asked: bool | None = None
    as_mass: bool = False
    body: Given | None = None
    resolved: tuple[Axes, ...] = (Axes.LEVEL,)
    compression: bool = False
    further: tuple[Further, ...] = ()
    mark: str = ""
    pieces: tuple[Distance, ...] = ()
    couples: tuple[Couple, ...] = ()
    sought_angle: Given | None = None
    body_points: tuple[BodyPoint, ...] = ()
    support: Support | None = None

    def key(self, kind: Kind) -> str:
        """Return the key of the one line of a kind: `M_sum`, or `M_sum2` in a second posture."""
        return kind.key + self.mark

    @property
    def seeks_centre(self) -> bool:
        """Return whether the centre of mass of several parts is to be found."""
        return self.find in (Find.CENTRE_OF_MASS, Find.LINE_OF_GRAVITY)

    @property
    def sums_masses(self) -> bool:
        """Return whether masses stand in for weights, since every part has its mass in kilograms.

        g would stand in each term and in their total, so it falls out.
        """
        return self.seeks_centre and all(
            load.magnitude is not None and load.magnitude.unit == "kg" for load in self.loads
        )

    @property
    def has_moments(self) -> bool:
        """Return whether moments that turn about the axis have a place in the working."""
        at_a_point = (Find.REACTION, Find.RESULTANT, Find.TWO_FORCES)
        return self.find not in at_a_point and not self.seeks_centre

    @property
    def forces(self) -> tuple[Force, ...]:
        """Return the loads, then the effort if there is one."""
        return self.loads if self.effort is None else (*self.loads, self.effort)

    @property
    def turning(self) -> tuple[Force, ...]:
        """Return the forces that have a place in the moment equation."""
        return (
            tuple(force for force in self.forces if not force.at_axis) if self.has_moments else ()
        )

    @property
    def known_turning(self) -> tuple[Force, ...]:
        """Return the forces whose moments are known before the last one is found."""
        last = self.balancing
        return tuple(f for f in self.turning if f is not last and not f.is_shared)

    @property
    def sharing(self) -> tuple[Force, ...]:
        """Return the forces that share a moment with the effort."""
        return tuple(force for force in self.turning if force.is_shared)

    @property
    def unknown(self) -> tuple[Force, ...]:
        """Return the forces whose size is to be found."""
        return tuple(force for force in self.forces if force.magnitude is None)

    @property
    def turning_symbols(self) -> tuple[str, ...]:
        """Return the symbols of all that stands in the moment equation, couples too."""
        return tuple(one.symbol for one in self.turning) + tuple(one.symbol for one in self.couples)

    @property
    def balancing(self) -> Force | None:
        """Return the force that balances the known moments; None where nothing does."""
        return next(
            (
                f
                for f in self.turning
                if f.magnitude is None or f.at.sought or self.turns_by_sought(f)
            ),
            None,
        )

    def turns_by_sought(self, force: Force) -> bool:
        """Return whether the moment of a force goes by the angle that is to be found."""
        angle = self.sought_angle
        if angle is None or angle != self.inclination:
            return angle is not None and force.direction.angle == angle
        return force.direction.reference != "segment" and not force.at.perpendicular

    def finds_place(self, force: Force) -> bool:
        """Return whether the place or the angle of a force is to be found, and not its size."""
        return force == self.balancing and force.magnitude is not None

    @property
    def asks_class(self) -> bool:
        """Return whether the class of lever is asked for.

        Unless that is said outright, it is where the order of all points along the segment can be
        seen. Where it is said, a moment arm counts as the place of its force.
        """
        if self.effort is None or not self.ratios:
            return False
        if self.class_asked is not None:
            return self.class_asked
        return all(force.is_placed for force in self.turning)

    def force(self, symbol: str) -> Force:
        """Return the force with this symbol."""
        return next(force for force in self.forces if force.symbol == symbol)

    @property
    def distances_as_read(self) -> list[Distance]:
        """Return every distance, in the order of the forces, some of them more than once."""
        found = [] if self.length is None else [self.length]
        found += self.pieces
        for force in self.forces:
            found += [force.at] if force.at.symbol else []
            found += [] if force.offset is None else force.offset.distances
            ends = force.direction.attachment
            found += [] if ends is None else [ends.along, ends.off]
        for point in self.body_points:
            found += point.distances
        return found if self.support is None else [*found, *self.support.distances]

    @property
    def distances(self) -> tuple[Distance, ...]:
        """Return every distance once, each after those that it is worked out from."""
        waiting = self.distances_as_read
        placed: dict[str, Distance] = {}
        while waiting:
            ready = [d for d in waiting if placed.keys() >= set(d.rests_on)]
            if not ready:
                names = ", ".join(d.symbol for d in waiting)
                raise ValueError(f"distances worked out from each other: {names}")
            placed.update((d.symbol, d) for d in ready)
            waiting = [d for d in waiting if d.symbol not in placed]
        return tuple(placed.values())

    def givens(self) -> Iterator[Given]:
        """Yield every given of the posture, in the order in which a reader meets them."""
        if self.inclination is not None and self.inclination != self.sought_angle:
            yield self.inclination
        if self.body is not None:
            yield self.body
        for distance in self.distances:
            if distance.derived is None and not distance.sought:
                yield distance.given
            elif distance.derived is not None and distance.derived.angle is not None:
                yield distance.derived.angle
        for force in self.forces:
            if force.before:
                pass  # it is known from an earlier posture
            elif force.source is not None:
                yield from force.source.givens
            elif force.share is not None:
                yield force.share.given
            elif force.magnitude is not None:
                yield force.magnitude
            angle = force.direction.angle
            given = angle is not None and angle != self.sought_angle
            if angle is not None and given and force.direction.attachment is None:
                yield angle
            if force.between is not None:
                yield force.between.fraction
        for point in self.body_points:
            if point.direction is not None and point.direction.angle is not None:
                yield point.direction.angle
        yield from (couple.magnitude for couple in self.given_couples)
        for further in self.further:
            yield from further.givens

    @property
    def given_couples(self) -> tuple[Couple, ...]:
        """Return the couples that are given, not handed on from an earlier posture."""
        return tuple(couple for couple in self.couples if not couple.before)

    @property
    def units_asked(self) -> set[str]:
        """Return the signs of the units that something further is asked for in."""
        return {further.unit for further in self.further} - {""}

    @property
    def body_weight_key(self) -> str:
        """Return the key of the body's weight: `W_b` where its mass is `m_b`."""
        assert self.body is not None, "a body has a mass"
        return f"W{self.body.key[1:]}"


@dataclass(frozen=True, slots=True)
class Bearing:
    """An angle in degrees, counter-clockwise from the horizontal that points right.

    Written as `constant + inclined * inclination + turned * angle`, with the posture's inclination
    and the force's own angle; `inclined` and `turned` are -1, 0 or +1.
    """

    constant: int
    inclined: int = 0
    turned: int = 0

    def degrees(self, inclination: float, angle: float) -> float:
        """Return the angle for the given values, in degrees."""
        return self.constant + self.inclined * inclination + self.turned * angle

    def __sub__(self, other: Bearing) -> Bearing:
        """Return the angle from `other` round to this one."""
        return Bearing(
            self.constant - other.constant,
            self.inclined - other.inclined,
            self.turned - other.turned,
        )


def segment_bearing(posture: Posture) -> Bearing:
    """Return the way that the segment runs from the axis to its end."""
    inclined = 0 if posture.inclination is None else (1 if posture.rises else -1)
    return Bearing(0, inclined) if posture.points == "right" else Bearing(180, -inclined)


def force_bearing(posture: Posture, direction: Direction) -> Bearing:
    """Return the way that a force points."""
    up = 1 if direction.side == "above" else -1
    turned = 0 if direction.angle is None else 1
    if direction.reference == "segment":
        segment = segment_bearing(posture)
        # Seen along a segment that points left, "above" lies clockwise of it.
        up *= 1 if posture.points == "right" else -1
        back = direction.toward == "axis"
        if direction.side == "along":
            return Bearing(segment.constant + (180 if back else 0), segment.inclined)
        if not turned:
            return Bearing(segment.constant + 90 * up, segment.inclined)
        return Bearing(
            segment.constant + (180 if back else 0), segment.inclined, -up if back else up
        )
    right = direction.toward == "right"
    if direction.reference == "horizontal":
        return Bearing(0, 0, up * turned) if right else Bearing(180, 0, -up * turned)
    return Bearing(90 * up, 0, turned * (-up if right else up))


def lengths(posture: Posture, numbers: Numbers) -> dict[str, float]:
    """Return every distance in metres, by symbol; the one that is sought is left out."""
    found: dict[str, float] = {}
    for distance in posture.distances:
        if distance.derived is not None:
            found[distance.symbol] = distance.derived.value(found, numbers)
        elif distance.of is not None:
            found[distance.symbol] = numbers[distance.given.key] * found[distance.of]
        elif not distance.sought:
            found[distance.symbol] = numbers[distance.given.key] * metres(distance.given.unit)
    return found


def run_to_attachment(posture: Posture, force: Force, numbers: Numbers) -> float:
    """Return how far along the segment the far end of a muscle lies from where it pulls, in metres.

    Positive toward the end of the segment, negative toward the axis.
    """
    ends = force.direction.attachment
    assert ends is not None, f"{force.symbol} has a far end"
    known = lengths(posture, numbers)
    far = known[ends.along.symbol] * (-1 if ends.along.beyond else 1)
    return far - known[force.at.symbol] * (-1 if force.at.beyond else 1)


def leans_as_told(posture: Posture, force: Force, numbers: Numbers) -> bool:
    """Return whether the far end of a muscle lies toward the end that its direction says."""
    if force.direction.attachment is None:
        return True
    return (run_to_attachment(posture, force, numbers) > 0) == (force.direction.toward == "end")


def slant(posture: Posture, force: Force, numbers: Numbers) -> float:
    """Return the angle of a force to its reference line in degrees, 0 where it has none."""
    direction = force.direction
    if direction.attachment is not None:
        off = lengths(posture, numbers)[direction.attachment.off.symbol]
        return math.degrees(math.atan2(off, abs(run_to_attachment(posture, force, numbers))))
    return 0.0 if direction.angle is None else numbers[direction.angle.key]
