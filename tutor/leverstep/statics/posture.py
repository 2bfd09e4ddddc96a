"""A described posture: one segment, its axis, what acts on it, and what is to be found.

A posture holds no numbers, only which quantities are given and in which unit.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from typing import Literal

from leverstep.statics.acting import Couple, Force
from leverstep.statics.kinds import Kind
from leverstep.statics.line_keys import weight_key, with_index
from leverstep.statics.points import BodyPoint, Distance, Given, Support
from leverstep.statics.units import IN_NAMED_LENGTH

Advantage = Literal["resistance over effort", "ratio of arms", "none"]
"""What a course calls mechanical advantage: a ratio of forces, or of moment arms."""

InclinedTo = Literal["horizontal", "vertical"]
"""The line that the inclination of a segment is measured from."""


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

    FORCE_AT_ARM = "force at an arm"
    """The force whose moment is one that was found, by its moment arm."""

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
class Posture:
    """A rigid segment held still about a joint axis, with one thing to be found.

    `find` says what that is. Where it is a balance, that is the force whose size is not given, most
    often the effort, or the one distance that is `sought`; `as_mass` asks for the mass of a load
    found too.

    `points` is the way the segment runs from the axis; `inclination` its given angle to the line
    `inclined_to`, `rises` False where the segment falls from the axis. `positive` is +1 where
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
    segment or of a force to the segment, in degrees and less than 90.

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
    inclined_to: InclinedTo = "horizontal"
    body_points: tuple[BodyPoint, ...] = ()
    support: Support | None = None

    def key(self, kind: Kind) -> str:
        """Return the key of the one line of a kind: `M_sum`, or `M_sum2` in a second posture."""
        return with_index(kind.key, "", self.mark)

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
    def names_length(self) -> bool:
        """Return whether its lengths are multiples of one that is only named."""
        given = [distance.given.unit for distance in self.distances_as_read]
        given += [couple.magnitude.unit for couple in self.given_couples]
        return not {*given}.isdisjoint(IN_NAMED_LENGTH.values())

    def unit_of_lines(self, unit: str) -> str:
        """Return the unit that stands for one with the metre in it on the lines of this posture."""
        return IN_NAMED_LENGTH.get(unit, unit) if self.names_length else unit

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
            yield from _givens_of_distance(distance)
        for force in self.forces:
            yield from _givens_of_size(force)
            angle = force.direction.angle
            is_given = angle != self.sought_angle and force.direction.attachment is None
            if angle is not None and is_given:
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
        return weight_key(self.body.key)


def _givens_of_distance(distance: Distance) -> Iterator[Given]:
    """Yield what is given of a distance: its length or share, or the angle it is worked out by."""
    if distance.derived is None and not distance.sought:
        yield distance.given
    elif distance.derived is not None and distance.derived.angle is not None:
        yield distance.derived.angle


def _givens_of_size(force: Force) -> Iterator[Given]:
    """Yield what the size of a force is given by; nothing where it is known from a posture before
    or is to be found.
    """
    if force.before:
        return
    if force.source is not None:
        yield from force.source.givens
    elif force.share is not None:
        yield force.share.given
    elif force.magnitude is not None:
        yield force.magnitude
