"""What a free-body diagram shows, in metres and degrees, before any pen draws it.

Points are complex numbers in metres: the axis is 0, x runs right and y up. A station is a place on
the line of the segment: metres from the axis, negative on the far side of it.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from leverstep.diagram.bearings import toward
from leverstep.diagram.surroundings import Surrounding

Role = Literal["force", "effort", "reaction"]


@dataclass(frozen=True)
class Arrow:
    """A force: where it acts, and the way it points in degrees.

    `station` is None where the force does not act on the line of the segment; `at` is its point in
    either case. `size` is its size in newtons, None as long as it is not known; `found` says that
    it was found, and not given. `headless` says that which way it points is still to be found:
    only its line is known.
    """

    symbol: str
    role: Role
    at: complex
    station: float | None
    bearing: float
    size: float | None = None
    found: bool = False
    headless: bool = False

    @cached_property
    def direction(self) -> complex:
        """Return the unit vector along the force."""
        return toward(self.bearing)


@dataclass(frozen=True, slots=True)
class Turning:
    """A couple: `turns` is +1 counter-clockwise, -1 clockwise, 0 as long as that is to be found.

    `station` is that of the joint where another segment hands it on, None for one that is given.
    """

    symbol: str
    turns: int
    station: float | None = None


@dataclass(frozen=True, slots=True)
class Measure:
    """A distance from the axis to a station, with what the problem gives for it."""

    symbol: str
    station: float
    value: str

    @property
    def text(self) -> str:
        """Return the symbol and the value: `d_l 36.0 cm`."""
        return f"{self.symbol} {self.value}"


@dataclass(frozen=True, slots=True)
class GivenArm:
    """A moment arm that the problem gives in place of a distance, that of the force `of`."""

    symbol: str
    of: str
    value: str

    @property
    def text(self) -> str:
        """Return the symbol and the value, and whose it is: `d_m 1.3 cm moment arm of F_m`."""
        return f"{self.symbol} {self.value} moment arm of {self.of}"


@dataclass(frozen=True, slots=True)
class Corner:
    """A given angle: its sign and value, the line it is measured from and the line it leads to.

    `of` is the symbol of the force whose angle it is, "" for the inclination of the segment;
    `reference` and `bearing` are the bearings of the two lines, in degrees. `from_segment` says
    that the first is the segment itself, `all_round` that it is measured anticlockwise, however
    far that is.
    """

    sign: str
    value: str
    of: str
    between: str
    reference: float
    bearing: float
    from_segment: bool = False
    all_round: bool = False

    @property
    def turned(self) -> float:
        """Return how far it is from the first line to the second, anticlockwise positive."""
        turned = (self.bearing - self.reference + 180) % 360 - 180
        return turned % 360 if self.all_round else turned

    @property
    def text(self) -> str:
        """Return the angle with what it lies between: `theta 35° forearm to horizontal`."""
        return f"{self.sign} {self.value} {self.between}"


@dataclass(frozen=True, slots=True)
class FarEnd:
    """The far end of a muscle whose force is `of`, `run` metres along its line of action.

    `off` tells its distance from the line of the segment, `aside` the same in words.
    """

    of: str
    run: float
    symbol: str
    off: str
    aside: str


@dataclass(frozen=True, slots=True)
class PlaceMark:
    """A point without an arrow: what stands beside it, "" for nothing, and whether it stands out.

    `station` is None where it does not lie on the line of the segment; `at` is its point in either
    case.
    """

    at: complex
    station: float | None
    text: str = ""
    chosen: bool = False


@dataclass(frozen=True)
class Scene:
    """All that a diagram shows.

    `bearing` is the way of the segment in degrees, `reach` and `behind` are how far it runs from
    the axis and past it, in metres. `arms` are the moment arms that are given, and `asides` tells
    the distances that do not run along the segment.
    `positive` is +1 where counter-clockwise moments are positive, and 0 where there are none;
    `leftward` says that the segment runs to the left. `far_ends` are those of muscles, and
    `surroundings` what is shown besides the forces. `fine` says that a pen draws it that has room
    for more than characters have. `positive_ways` are the ways that count as positive
    where a centre of mass is to be found, "" elsewhere; `centre` is the centre of mass, None before
    it is found, `centre_called` what it is called, and `body` its parts with its base of support.
    `compared` has the arrows of all postures of the same body, where there are several. `marks` are
    points without an arrow, `has_axis` says whether the axis is marked: in a picture that is still
    being made it may not be.
    """

    segment: str
    axis: str
    bearing: float
    reach: float
    behind: float
    arrows: tuple[Arrow, ...]
    measures: tuple[Measure, ...]
    corners: tuple[Corner, ...]
    positive: int
    leftward: bool
    arms: tuple[GivenArm, ...] = ()
    asides: tuple[str, ...] = ()
    far_ends: tuple[FarEnd, ...] = ()
    surroundings: tuple[Surrounding, ...] = ()
    fine: bool = False
    couples: tuple[Turning, ...] = ()
    compared: tuple[Arrow, ...] = ()
    positive_ways: str = ""
    centre: complex | None = None
    centre_called: str = ""
    body: tuple[Surrounding, ...] = ()
    marks: tuple[PlaceMark, ...] = ()
    has_axis: bool = True

    @property
    def is_being_made(self) -> bool:
        """Return whether a student is drawing it, so that its arrows say nothing of sizes."""
        return bool(self.marks)

    @cached_property
    def beneath(self) -> tuple[Surrounding, ...]:
        """Return all that is drawn beneath the forces: a body first, then what is only shown."""
        return (*self.body, *self.surroundings)

    @cached_property
    def on_line(self) -> bool:
        """Return whether the line of the segment is drawn: not for parts that lie beside it."""
        return not self.positive_ways or all(one.station is not None for one in self.arrows)

    @cached_property
    def level(self) -> bool:
        """Return whether the segment is level."""
        return abs(self.way.imag) < 1e-9

    @cached_property
    def at_one_point(self) -> bool:
        """Return whether all forces act at the axis, and there is no distance from it to show."""
        return not (self.reach or self.behind) and all(one.station == 0.0 for one in self.arrows)

    @property
    def barred(self) -> bool:
        """Return whether distances are drawn along the segment, not level and below it."""
        return self.fine and not self.level and bool(self.measures)

    @cached_property
    def way(self) -> complex:
        """Return the unit vector along the segment."""
        return toward(self.bearing)

    @cached_property
    def clear_side(self) -> int:
        """Return the side of the segment with fewer arrows: +1 counter-clockwise from its way."""
        sides = [toward(arrow.bearing - self.bearing).imag for arrow in self.arrows]
        return 1 if sum(1 if side > 0 else -1 for side in sides) <= 0 else -1

    @cached_property
    def by_arm(self) -> set[str]:
        """Return the symbols of the forces whose moment arm is given in place of a distance."""
        return {arm.of for arm in self.arms}

    @property
    def facts(self) -> tuple[str, ...]:
        """Return what is stated beside the distances along the segment: angles and moment arms."""
        return (*(one.text for one in self.corners), *(one.text for one in self.arms))

    def arrow(self, symbol: str) -> Arrow:
        """Return the arrow of a force."""
        return next(arrow for arrow in self.arrows if arrow.symbol == symbol)

    @cached_property
    def across(self) -> dict[str, float]:
        """Return the sine of the angle between each force and the segment, without its sign."""
        along = self.way.conjugate()
        return {arrow.symbol: abs((arrow.direction * along).imag) for arrow in self.arrows}

    def runs_along(self, arrow: Arrow) -> bool:
        """Return whether a force acts along the segment, so that its arrow would cover it."""
        if self.at_one_point:
            return False
        return arrow.station is not None and self.across[arrow.symbol] < 0.05
