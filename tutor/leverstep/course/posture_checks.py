"""What keeps the posture of a problem file from being worked, each told as a fault of the file."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from leverstep.course.body_parts import check_no_parts, check_parts
from leverstep.course.faults import Reader
from leverstep.course.phrases import listed
from leverstep.course.quantities import RESERVED, Quantities
from leverstep.statics.acting import Force
from leverstep.statics.balance import is_resisted, known_moments, resisting
from leverstep.statics.force_axes import AXIAL, PAIRS
from leverstep.statics.geometry import leans_as_told
from leverstep.statics.points import Numbers
from leverstep.statics.posture import Axes, Find, Posture
from leverstep.statics.step import Draft
from leverstep.statics.turn import (
    acting_along,
    from_segment,
    moment_sign,
    own_keys,
    part,
    passes_axis,
)

WITHOUT_UNKNOWN = tuple(find.value for find in Find if find not in (Find.BALANCE, Find.TWO_FORCES))
"""What `find` may name where a file leaves nothing open."""

_SURE = 0.99
"""The sine of the angle to the segment from where on a force turns it as its direction says."""

_HARDLY = 0.01
"""The sine from where down a force points along the segment, and may turn it either way."""

LEAST_GIVEN = {Find.RESULTANT: 2, Find.TWO_FORCES: 1}
"""How many forces through one point must be given, by what is to be found."""

BOTH = "both"
"""What `resolve` names for both pairs of axes."""


def table_of(posture: Posture, force: Force) -> str:
    """Return what the table of a force is called in its file: `load[2]`."""
    if force is posture.effort:
        return "effort"
    return f"load[{posture.loads.index(force) + 1}]"


def unlikely_turns(
    posture: Posture, middle: Numbers, *, sure: bool
) -> Iterator[tuple[str, str, str]]:
    """Yield the moment arms said to turn the other way than direction and side of the axis do.

    Each is the place in the file, what was found there, and what was expected.

    Args:
        posture: whose forces they are.
        middle: a number for each given.
        sure: whether to yield those of forces across the segment, which can't turn it so, or those
            of slanting ones, whose line of action may pass the axis on its other side.
    """
    draft = Draft(posture, middle)
    for force in posture.forces:
        if force.turns is None:
            continue
        sine = _sine_about(draft, force)
        if sine * force.turns < -_HARDLY and (abs(sine) > _SURE) is sure:
            said, other = ("counter-clockwise", "clockwise")[:: force.turns]
            side = "far" if force.at.beyond else "near"
            found = f'{force.symbol} is said to turn "{said}", but by its direction, on the {side}'
            found += f' side of the axis, it turns "{other}"'
            if not sure:
                found += ", unless its line of action passes the axis on the other side"
            yield f"{table_of(posture, force)}.at.turns", found, f'"{other}", or another direction'


def _sine_about(draft: Draft, force: Force) -> float:
    """Return the sine of the angle from the segment to a force, turned by its side of the axis."""
    degrees = draft.degrees(from_segment(draft, force), force)
    return math.sin(math.radians(degrees)) * (-1 if force.at.beyond else 1)


@dataclass(frozen=True)
class PostureChecks:
    """A posture whose parts could all be read; `ask` and `reader` take its faults.

    `named` is what the file says is to be found, `quantities` what was met in it.
    """

    posture: Posture
    named: str
    ask: Reader
    reader: Reader
    quantities: Quantities

    def check(self) -> None:
        """Note what keeps the posture from being worked; the last checks need the first ones.

        Where one check has found a fault at a place, another one there mostly follows from it, and
        is not told.
        """
        faults = self.reader.faults
        for group in (
            (self._check_named,),
            (
                self._check_ratios, self._check_resolved, self._check_roles, self._check_point,
                self._check_sought, self._check_angle_sought, self._check_places,
                self._check_shared,
            ),
            (self._check_steps,),
        ):  # fmt: skip
            for check in group:
                begun, places = len(faults), {fault.key for fault in faults}
                check()
                faults[begun:] = [one for one in faults[begun:] if one.key not in places]
            if faults:
                return

    def _check_named(self) -> None:
        """Note what is named and is no force or distance, or none that can be known."""
        named, loads = self.posture.arm_ratio_of, [load.symbol for load in self.posture.loads]
        if named is not None and named not in loads:
            found = f'found "{named}"{self.ask.near(named, loads)}'
            self.ask.fault("arm_ratio_of", found, "the symbol of a load")
        self._check_distances()

    def _check_distances(self) -> None:
        """Note a distance that is worked out from none of the problem's, or from itself."""
        named = {one.symbol: one for one in self.posture.distances_as_read if one.symbol}
        for distance in named.values():
            for other in distance.rests_on:
                how = "a fraction of" if distance.of else "worked out from"
                found = f'{distance.symbol} is {how} "{other}"'
                if other not in named:
                    expected = "a distance of this problem" + self.reader.near(other, named)
                    if distance.of and self.posture.length is None:
                        expected += ", such as the length of the [segment]"
                elif named[other].sought:
                    found += ", which is to be found"
                    expected = "a fraction of what is given" if distance.of else "what is given"
                else:
                    continue
                self._at(distance.symbol).fault("", found, expected)
            if distance.derived is not None and distance.derived.angle is not None:
                self._check_angle(distance.symbol, distance.derived.angle.key)
        if self.reader.faults:
            return
        try:
            self.posture.distances  # noqa: B018  (evaluated for what it raises)
        except ValueError as error:
            self.reader.fault("load", str(error), "at least one of them measured")

    def _check_angle(self, symbol: str, angle: str) -> None:
        """Note an angle, named for a distance, that is none of the problem's."""
        angles = self.quantities.angles
        if angle not in angles:
            found = f'{symbol} is worked out with "{angle}"'
            expected = "an angle of this problem" + self.reader.near(angle, angles)
            self._at(symbol).fault("", found, expected)

    def _at(self, symbol: str) -> Reader:
        """Return the reader of the place where a distance has its symbol."""
        path = self.quantities.symbols.get(symbol, self.reader.at("load"))
        return Reader(self.reader.file, {}, self.reader.faults, path)

    def _check_ratios(self) -> None:
        """Note an advantage or a class of lever that is asked for where there is no lever."""
        posture, ask = self.posture, self.ask
        wanted = {
            "advantage": ask.has("advantage") and posture.advantage != "none",
            "class": posture.class_asked is True,
            "class_note": ask.has("class_note"),
        }
        for key in (key for key, is_wanted in wanted.items() if is_wanted):
            if posture.effort is None:
                ask.fault(key, "asked for without the effort of a lever", "an [effort]")
            elif posture.couples and not posture.ratios:
                couple = posture.couples[0].symbol
                found = f"asked for beside {couple}, a couple, which has no arm to compare"
                ask.fault(key, found, f"no {key}")
            elif not posture.ratios:
                ask.fault(key, "asked for without ratios", f"ratios = true, or no {key}")
        beside = [force.symbol for force in posture.turning if force.offset is not None]
        if posture.asks_class and beside:
            found = f"{beside[0]} acts beside the segment"
            ask.fault("class", found, "every force at a place along the segment")

    def _check_resolved(self) -> None:
        """Note where nothing is there to be resolved, or no axial component to be told in words."""
        posture, ask = self.posture, self.ask
        by_segment = Axes.SEGMENT in posture.resolved
        if by_segment and not posture.reaction and posture.effort is None:
            found = "there is neither a reaction nor an effort to resolve"
            ask.fault("resolve", found, "reaction = true, or an [effort]")
        if posture.compression and not (by_segment and posture.reaction):
            expected = f'a reaction, and resolve = "{Axes.SEGMENT.value}" or "{BOTH}"'
            ask.fault("compression", "no component along the segment is asked for", expected)

    def _check_roles(self) -> None:
        """Note an effort where there is none to be held, and moments where they are left out."""
        if self.posture.find is not Find.BALANCE and self.posture.effort is not None:
            found = f'"{self.named}" beside an [effort]'
            self.ask.fault("find", found, "no [effort]: each force given is a [[load]]")

    def _check_point(self) -> None:
        """Note what keeps forces from being added, or balanced, as forces through one point."""
        posture, ask = self.posture, self.ask
        if posture.find not in LEAST_GIVEN:
            return
        apart = [force.symbol for force in posture.forces if not force.at_axis]
        if apart:
            found = f"{', '.join(apart)} does not act through the axis"
            ask.fault("find", found, 'at = "axis" for every force')
        given = [force for force in posture.forces if force.magnitude is not None]
        least = LEAST_GIVEN[posture.find]
        if len(given) < least:
            ask.fault("find", f"found {len(given)} forces of given size", f"at least {least}")
        if posture.find is Find.TWO_FORCES and len(posture.unknown) != 2:
            ask.fault("find", f"found {len(posture.unknown)} without a size", "two such forces")
        if posture.resolved != (Axes.LEVEL,):
            ask.fault("resolve", "found along the segment", f'"{Axes.LEVEL.value}"')

    def _check_sought(self) -> None:
        """Note where what is to be found is not the one thing that the file leaves open."""
        posture, named = self.posture, self.named
        unknown = [force.symbol for force in posture.unknown]
        unknown += [distance.symbol for distance in posture.distances if distance.sought]
        unknown += [angle.key for angle in self.quantities.angles_sought]
        weighed = (force.symbol for force in posture.forces if force.mass_key == named)
        sought = next(weighed, named) if posture.as_mass else named
        wanted = [sought] if posture.find is Find.BALANCE else []
        if posture.find is Find.TWO_FORCES:
            wanted = named.split(" and ")
        if sorted(unknown) == sorted(wanted):
            return
        masses = [force.mass_key for force in posture.forces]
        names = [*self.quantities.symbols, *masses, *WITHOUT_UNKNOWN]
        if not named:
            found = "missing"
            expected = "an [effort], the symbol of what is left open, or one of "
            expected += ", ".join(WITHOUT_UNKNOWN)
            if len(unknown) == 1:
                expected = f'find = "{unknown[0]}", since that is left open'
        elif named not in names:
            found = f'found "{named}"{self.ask.near(named, names)}'
            expected = "a force, its mass or a distance, by its symbol, or one of "
            expected += ", ".join(WITHOUT_UNKNOWN)
        else:
            found = f"left open: {', '.join(unknown) or 'nothing'}"
            expected = f"{named} and no other" if wanted else "every size and distance"
            if wanted and not unknown:
                expected += ", which is to be found, and so has no numbers"
            elif wanted and named in unknown:
                others = listed([one for one in unknown if one not in wanted])
                expected += f": numbers for {others}"
        self.ask.fault("find", found, expected)

    def _check_angle_sought(self) -> None:
        """Note an angle to be found where it goes into several moments, or is not the only one."""
        posture, angle = self.posture, self.posture.sought_angle
        if angle is None:
            return
        turned = [force for force in posture.turning if posture.turns_by_sought(force)]
        table = "segment.inclination"
        if angle != posture.inclination:
            table = (
                f"{table_of(posture, turned[0])}.direction.angle" if turned else "direction.angle"
            )
        found = f"{angle.key} is to be found"
        if posture.mark:
            self.ask.fault("find", found, "a problem of one posture, without [[next]]")
        elif posture.ratios:
            self.ask.fault("ratios", found, "no ratios: no effort is to be found")
        elif posture.by_components:
            self.ask.fault("method", found, 'method = "moment arms"')
        elif len(turned) != 1:
            told = "no force" if not turned else " and ".join(force.symbol for force in turned)
            expected = "one force whose moment goes by it, the others perpendicular to the segment"
            self.reader.fault(table, f"{found}, and goes into the moment of {told}", expected)
        elif angle != posture.inclination and turned[0].direction.reference != "segment":
            self.reader.fault(table, found, 'line = "segment", so that one angle alone fits')
        elif turned[0].at.perpendicular or turned[0].offset is not None or turned[0].at.sought:
            self.reader.fault(table, found, "a force at a distance along the segment")
        elif turned[0].direction.angle is not None and angle == posture.inclination:
            found = f"{found}, and {turned[0].symbol} slants by an angle of its own"
            self.reader.fault(table, found, "a force that is level or upright")

    def _check_places(self) -> None:
        """Note a force that acts where the working has no place for it."""
        for force in self.posture.forces:
            place = table_of(self.posture, force)
            if force.direction.attachment is not None:
                self._check_near_end(place, force)
            finds_moment = self.posture.find in (Find.NET_MOMENT, Find.MOMENT_SUM)
            if force.offset is not None and not (finds_moment or self.posture.seeks_centre):
                found = f"{force.symbol} acts beside the segment"
                expected = "a point on the segment; beside it only where a moment is to be found"
                self.reader.fault(f"{place}.at", found, expected)
            is_sought = force.magnitude is None or force.symbol == self.named
            if force.at_axis and is_sought and self.posture.find is not Find.TWO_FORCES:
                found = f"{force.symbol}, which is to be found, acts at the axis"
                self.reader.fault(f"{place}.at", found, "a force that has a moment")

    def _check_shared(self) -> None:
        """Note a muscle that shares with an effort that is no muscle to be found like it."""
        posture = self.posture
        for force in posture.sharing:
            place = f"{table_of(posture, force)}.shares"
            if posture.effort is None or posture.balancing is not posture.effort:
                found = "there is no effort to be found with it"
                self.reader.fault(place, found, "an [effort] without a size")
            elif posture.effort.at.sought:
                self.reader.fault(place, "the effort's distance is sought", "its size to be found")
            elif posture.ratios or posture.by_components:
                found = (
                    "a mechanical advantage, or the method of components, is asked for beside it"
                )
                self.reader.fault(place, found, "ratios = false, and moment arms")

    def _check_near_end(self, place: str, force: Force) -> None:
        """Note a muscle whose far end is told, but not the point of the segment that it pulls."""
        at = force.at
        if not at.symbol or at.perpendicular or at.sought:
            found = f"the far end of {force.symbol} is given, but not where it pulls the segment"
            self.reader.fault(f"{place}.at", found, "a distance along the segment")

    def _check_steps(self) -> None:
        """Note what keeps the working from being written: names that clash, or no balance."""
        middle = self.quantities.middle()
        draft = Draft(self.posture, middle)
        taken = set(self.quantities.symbols) | RESERVED
        if self.posture.seeks_centre:
            check_parts(self.reader, self.posture, middle, taken - RESERVED)
            return
        check_no_parts(self.reader, self.posture)
        for force in self.posture.forces:
            self._check_keys(draft, force, taken)
            self._check_attachment(draft, force)
            self._check_line_of_action(draft, force)
        for couple in self.posture.couples:
            self._check_key(couple.moment_key, couple.symbol, taken)
        self._check_compression(draft)
        self._check_sharing(draft)
        if self.posture.find is Find.TWO_FORCES:
            self._check_no_force_alone(draft)
        if self.posture.balancing is not None:
            self._check_balance(draft, self.posture.balancing)
        elif self.posture.has_moments and not known_moments(draft):
            self.reader.fault("load", "no force has a moment", "a force beside the axis")
        if not self.reader.faults:
            self._check_load_compared(draft)

    def _check_compression(self, draft: Draft) -> None:
        """Note that compression is asked for, where nothing acts along the segment."""
        axial = (part(draft, force, AXIAL)[1] for force in self.posture.forces)
        if self.posture.compression and not any(axial):
            found = "no force has a component along the segment"
            self.ask.fault("compression", found, "compression = false, or a force that has one")

    def _check_sharing(self, draft: Draft) -> None:
        """Note a force that shares the effort's moment and turns the other way."""
        for force in self.posture.sharing:
            if force not in self._turning_with_effort(draft):
                found = f"{force.symbol} turns the other way than the effort"
                place = f"{table_of(self.posture, force)}.direction"
                self.reader.fault(place, found, "the same way")

    def _check_no_force_alone(self, draft: Draft) -> None:
        """Note one of two unknown forces that must be nothing: along one axis no other acts."""
        for axis in PAIRS[Axes.LEVEL]:
            there = [force for force, _, _ in acting_along(draft, self.posture.forces, axis)]
            if len(there) == 1 and there[0].magnitude is None:
                alone = there[0]
                place = f"{table_of(self.posture, alone)}.direction"
                found = f"nothing can balance {alone.symbol}"
                self.reader.fault(place, found, "two forces that balance the others together")

    def _check_load_compared(self, draft: Draft) -> None:
        """Note where several loads may stand in an advantage that is a ratio of two arms."""
        posture, loads = self.posture, [load.symbol for load in resisting(draft)]
        is_open = posture.advantage == "ratio of arms" and posture.arm_ratio_of is None
        if is_open and len(loads) > 1:
            expected = f"the load whose arm counts: {', '.join(loads)}"
            self.ask.fault("arm_ratio_of", "missing", expected)

    def _turning_with_effort(self, draft: Draft) -> tuple[Force, ...]:
        effort = self.posture.effort
        assert effort is not None, "what is shared is shared with an effort"
        sides = (one for one in self.posture.turning if not passes_axis(draft, one))
        return tuple(one for one in sides if moment_sign(draft, one) == moment_sign(draft, effort))

    def _check_keys(self, draft: Draft, force: Force, taken: set[str]) -> None:
        """Note steps of a force that are called as something else is; their names are `taken`."""
        for key in own_keys(draft, force):
            self._check_key(key, force.symbol, taken)

    def _check_key(self, key: str, symbol: str, taken: set[str]) -> None:
        if key in taken:
            found = f'"{key}" is also what a step about {symbol} is called'
            self.reader.fault("symbol", found, "another symbol")
        taken.add(key)

    def _check_attachment(self, draft: Draft, force: Force) -> None:
        """Note a far end that does not lie where the direction says."""
        if not leans_as_told(draft.posture, force, draft.sample):
            found = f"the far end of {force.symbol} lies toward the other end"
            self.reader.fault("direction.toward", found, '"axis" or "end", as it lies')

    def _check_line_of_action(self, draft: Draft, force: Force) -> None:
        """Note a force that has a moment where none is asked for, or none beside the segment."""
        place, through = f"{table_of(self.posture, force)}.at", passes_axis(draft, force)
        if through and force.symbol == self.posture.arm_ratio_of:
            found = f"{force.symbol} acts through the axis, so it has no arm"
            self.ask.fault("arm_ratio_of", found, "a load that has a moment")
        if force.offset is not None and through:
            found = f"the line of action of {force.symbol} passes through the axis"
            self.reader.fault(place, found, 'at = "axis"')
        elif not (self.posture.has_moments or through):
            found = f"{force.symbol} has a moment about the axis"
            expected = 'only forces through the axis (at = "axis"), where find = "reaction"'
            self.reader.fault(place, found, expected)

    def _check_balance(self, draft: Draft, last: Force) -> None:
        """Note where the force that is to be found can't hold the others."""
        effort, place = draft.posture.effort, table_of(self.posture, last)
        if last is not effort and passes_axis(draft, last):
            found = f"{last.symbol} acts through the axis"
            self.reader.fault(place, found, "a force that has a moment")
        elif last is not effort and not is_resisted(draft, last):
            found = f"{last.symbol} turns the same way as every other force"
            self._tell_no_balance(draft, place, found, "a force against some other")
        elif effort is not None and passes_axis(draft, effort):
            found = "the effort acts through the axis"
            self.reader.fault("effort.direction", found, "an effort that has a moment")
        elif effort is not None and not is_resisted(draft, effort):
            found = "the effort turns the same way as every load"
            self._tell_no_balance(draft, "effort.direction", found, "an effort against some load")

    def _tell_no_balance(self, draft: Draft, place: str, found: str, expected: str) -> None:
        """Note that all turn one way: where a turn goes against its direction, that one."""
        said = unlikely_turns(self.posture, draft.sample, sure=True)
        for fault in list(said) or [(place, found, expected)]:
            self.reader.fault(*fault)
