"""What keeps the working of a posture from being written, each told as a fault of its file."""

from __future__ import annotations

from leverstep.course.body_parts import check_no_parts, check_parts
from leverstep.course.faults import Reader
from leverstep.course.force_tables import table_of, unlikely_turns
from leverstep.course.quantities import RESERVED, Quantities
from leverstep.statics.acting import Force
from leverstep.statics.balance import is_resisted, known_moments, resisting
from leverstep.statics.force_axes import AXIAL, PAIRS
from leverstep.statics.geometry import leans_as_told
from leverstep.statics.posture import Axes, Find, Posture
from leverstep.statics.step import Draft
from leverstep.statics.turn import acting_along, moment_sign, own_keys, part, passes_axis


class WorkingChecks:
    """A posture of which everything is known that is asked for, with a number for each given.

    `ask` and `reader` take its faults. What a line or a quantity is called, no other may be.
    """

    def __init__(
        self, posture: Posture, ask: Reader, reader: Reader, quantities: Quantities
    ) -> None:
        self.posture = posture
        self.ask = ask
        self.reader = reader
        self._draft = Draft(posture, quantities.middle())
        self._taken = set(quantities.symbols) | RESERVED

    def check(self) -> None:
        """Note what keeps the working from being written: names that clash, or no balance."""
        if self.posture.seeks_centre:
            symbols = self._taken - RESERVED
            check_parts(self.reader, self.posture, self._draft.sample, symbols)
            return
        check_no_parts(self.reader, self.posture)
        for force in self.posture.forces:
            self._check_keys(force)
            self._check_attachment(force)
            self._check_line_of_action(force)
        for couple in self.posture.couples:
            self._check_key(couple.moment_key, couple.symbol)
        self._check_compression()
        self._check_sharing()
        if self.posture.find is Find.TWO_FORCES:
            self._check_no_force_alone()
        if self.posture.balancing is not None:
            self._check_balance(self.posture.balancing)
        elif self.posture.has_moments and not known_moments(self._draft):
            self.reader.fault("load", "no force has a moment", "a force beside the axis")
        if not self.reader.faults:
            self._check_load_compared()

    def _check_compression(self) -> None:
        """Note that compression is asked for, where nothing acts along the segment."""
        axial = (part(self._draft, force, AXIAL)[1] for force in self.posture.forces)
        if self.posture.compression and not any(axial):
            found = "no force has a component along the segment"
            self.ask.fault("compression", found, "compression = false, or a force that has one")

    def _check_sharing(self) -> None:
        """Note a force that shares the effort's moment and turns the other way."""
        for force in self.posture.sharing:
            if force not in self._turning_with_effort():
                found = f"{force.symbol} turns the other way than the effort"
                place = f"{table_of(self.posture, force)}.direction"
                self.reader.fault(place, found, "the same way")

    def _check_no_force_alone(self) -> None:
        """Note one of two unknown forces that must be nothing: along one axis no other acts."""
        for axis in PAIRS[Axes.LEVEL]:
            there = [force for force, _, _ in acting_along(self._draft, self.posture.forces, axis)]
            if len(there) == 1 and there[0].magnitude is None:
                alone = there[0]
                place = f"{table_of(self.posture, alone)}.direction"
                found = f"nothing can balance {alone.symbol}"
                self.reader.fault(place, found, "two forces that balance the others together")

    def _check_load_compared(self) -> None:
        """Note where several loads may stand in an advantage that is a ratio of two arms."""
        posture, loads = self.posture, [load.symbol for load in resisting(self._draft)]
        is_open = posture.advantage == "ratio of arms" and posture.arm_ratio_of is None
        if is_open and len(loads) > 1:
            expected = f"the load whose arm counts: {', '.join(loads)}"
            self.ask.fault("arm_ratio_of", "missing", expected)

    def _turning_with_effort(self) -> tuple[Force, ...]:
        effort = self.posture.effort
        assert effort is not None, "what is shared is shared with an effort"
        sides = (one for one in self.posture.turning if not passes_axis(self._draft, one))
        return tuple(
            one
            for one in sides
            if moment_sign(self._draft, one) == moment_sign(self._draft, effort)
        )

    def _check_keys(self, force: Force) -> None:
        """Note steps of a force that are called as something else is."""
        for key in own_keys(self._draft, force):
            self._check_key(key, force.symbol)

    def _check_key(self, key: str, symbol: str) -> None:
        if key in self._taken:
            found = f'"{key}" is also what a step about {symbol} is called'
            self.reader.fault("symbol", found, "another symbol")
        self._taken.add(key)

    def _check_attachment(self, force: Force) -> None:
        """Note a far end that does not lie where the direction says."""
        if not leans_as_told(self.posture, force, self._draft.sample):
            found = f"the far end of {force.symbol} lies toward the other end"
            self.reader.fault("direction.toward", found, '"axis" or "end", as it lies')

    def _check_line_of_action(self, force: Force) -> None:
        """Note a force that has a moment where none is asked for, or none beside the segment."""
        place, through = f"{table_of(self.posture, force)}.at", passes_axis(self._draft, force)
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

    def _check_balance(self, last: Force) -> None:
        """Note where the force that is to be found can't hold the others."""
        effort, place = self.posture.effort, table_of(self.posture, last)
        if last is not effort and passes_axis(self._draft, last):
            found = f"{last.symbol} acts through the axis"
            self.reader.fault(place, found, "a force that has a moment")
        elif last is not effort and not is_resisted(self._draft, last):
            found = f"{last.symbol} turns the same way as every other force"
            self._tell_no_balance(place, found, "a force against some other")
        elif effort is not None and passes_axis(self._draft, effort):
            found = "the effort acts through the axis"
            self.reader.fault("effort.direction", found, "an effort that has a moment")
        elif effort is not None and not is_resisted(self._draft, effort):
            found = "the effort turns the same way as every load"
            self._tell_no_balance("effort.direction", found, "an effort against some load")

    def _tell_no_balance(self, place: str, found: str, expected: str) -> None:
        """Note that all turn one way: where a turn goes against its direction, that one."""
        said = unlikely_turns(self.posture, self._draft.sample, sure=True)
        for fault in list(said) or [(place, found, expected)]:
            self.reader.fault(*fault)
