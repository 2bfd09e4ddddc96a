"""Reading where the size of a known force comes from: a muscle, an elastic band, or inertia."""

from __future__ import annotations

from collections.abc import Mapping

from leverstep.course.faults import Reader
from leverstep.course.quantities import Quantities
from leverstep.statics.acting import (
    BandSize,
    Force,
    InertiaSize,
    MuscleSize,
    SharedSize,
    SizeSource,
)
from leverstep.statics.points import Given
from leverstep.statics.units import ACCELERATION, AREA, LENGTH, NUMBER, STIFFNESS, STRESS

SOURCES = ("muscle", "band", "acceleration", "shares")
"""The keys of a force that say where its size comes from."""


class SourceReader:
    """Reads the sources of one file; quantities are kept in `quantities`."""

    def __init__(self, quantities: Quantities) -> None:
        self.quantities = quantities
        self._areas_of_effort: dict[str, Given] = {}

    def source(self, reader: Reader, before: Mapping[str, Force]) -> SizeSource | None:
        """Return where the size of a force comes from, None where it is given otherwise.

        Args:
            reader: the table of the force.
            before: the forces read before it, by symbol.
        """
        if reader.has("inertia_of") or reader.has("acceleration"):
            return self._inertia(reader, before)
        reader.asked.add("inertia_of")
        for key, read, like in (
            ("muscle", self._muscle, "{ area = …, specific_tension = … }"),
            ("band", self._band, "{ stiffness = …, length = …, rest_length = … }"),
            ("shares", self._shared, '{ ratio = { symbol = "q_b", value = 0.6 } }'),
        ):
            if reader.has(key):
                table = reader.child(key, like=like)
                found = None if table is None else read(table)
                if table is not None:
                    table.finish()
                return found
        return None

    def _muscle(self, reader: Reader) -> MuscleSize | None:
        area = self.quantities.measured_in(reader, "area", AREA)
        tension = self.quantities.measured_in(reader, "specific_tension", STRESS)
        return None if area is None or tension is None else MuscleSize(area, tension)

    def _band(self, reader: Reader) -> BandSize | None:
        stiffness = self.quantities.measured_in(reader, "stiffness", STIFFNESS)
        length = self.quantities.measured_in(reader, "length", LENGTH)
        rest = self.quantities.measured_in(reader, "rest_length", LENGTH)
        if stiffness is None or length is None or rest is None:
            return None
        if length.unit != rest.unit:
            found = f'found "{rest.unit}" beside "{length.unit}"'
            reader.fault("rest_length", found, "both lengths in one unit")
        longest = self.quantities.ranges[rest.key].high
        if self.quantities.ranges[length.key].low <= longest:
            found = f"it may be as short as the rest length, {float(longest):g}"
            reader.fault("length", found, "a length above every rest length")
        return BandSize(stiffness, length, rest)

    def _shared(self, reader: Reader) -> SharedSize | None:
        if reader.has("ratio"):
            ratio = self.quantities.measured_in(reader, "ratio", NUMBER)
            return None if ratio is None else SharedSize(ratio)
        own = self.quantities.measured_in(reader, "area", AREA)
        other = self._area_of_effort(reader)
        if own is None or other is None:
            return None
        if own.unit != other.unit:
            found = f'found "{other.unit}" beside "{own.unit}"'
            reader.fault("area_of_effort", found, "both areas in one unit")
        return SharedSize(own, other)

    def _area_of_effort(self, reader: Reader) -> Given | None:
        """Return the effort's area; a load after the first that shares may name it."""
        met = self._areas_of_effort
        if met and isinstance(reader.table.get("area_of_effort"), str):
            return met.get(reader.choice("area_of_effort", tuple(met)))
        area = self.quantities.measured_in(reader, "area_of_effort", AREA)
        if area is not None:
            met[area.sign] = area
        return area

    def _inertia(self, reader: Reader, before: Mapping[str, Force]) -> InertiaSize | None:
        acceleration = self.quantities.measured_in(reader, "acceleration", ACCELERATION)
        masses = {
            symbol: force.magnitude
            for symbol, force in before.items()
            if force.magnitude is not None and force.magnitude.is_mass
        }
        of = reader.text("inertia_of")
        if of and of not in masses:
            expected = f"one of {', '.join(masses)}" if masses else "a load with a mass before it"
            reader.fault("inertia_of", f'found "{of}"{reader.near(of, masses)}', expected)
        if acceleration is None or of not in masses:
            return None
        return InertiaSize(of, masses[of], acceleration)
