"""What keeps the posture of a problem file from being worked, each told as a fault of the file."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from leverstep.course.faults import Reader
from leverstep.course.force_tables import table_of
from leverstep.course.phrases import listed
from leverstep.course.quantities import Quantities
from leverstep.course.working_checks import WorkingChecks
from leverstep.statics.acting import Force
from leverstep.statics.points import Distance
from leverstep.statics.posture import Axes, Find, Posture

WITHOUT_UNKNOWN = tuple(find.value for find in Find if find not in (Find.BALANCE, Find.TWO_FORCES))
"""What `find` may name where a file leaves nothing open."""

LEAST_GIVEN = {Find.RESULTANT: 2, Find.TWO_FORCES: 1}
"""How many forces through one point must be given, by what is to be found."""

BOTH = "both"
"""What `resolve` names for both pairs of axes."""


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
            (self._check_working,),
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
                self._check_other(distance, other, named)
            if distance.derived is not None and distance.derived.angle is not None:
                self._check_angle(distance.symbol, distance.derived.angle.key)
        if self.reader.faults:
            return
        try:
            self.posture.distances  # noqa: B018  (evaluated for what it raises)
        except ValueError as error:
            self.reader.fault("load", str(error), "at least one of them measured")

    def _check_other(self, distance: Distance, other: str, named: Mapping[str, Distance]) -> None:
        """Note that what a distance rests on is none of those `named`, or to be found itself."""
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
            return
        self._at(distance.symbol).fault("", found, expected)

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

    def _check_working(self) -> None:
        """Note what keeps the working from being written."""
        WorkingChecks(self.posture, self.ask, self.reader, self.quantities).check()
