"""Reading what a problem file has worked out from what was found: each a `[[further]]`."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from leverstep.course.faults import Reader
from leverstep.course.forces import sense_of
from leverstep.course.quantities import Quantities
from leverstep.statics.acting import Force
from leverstep.statics.further import component_keys, measurable, path_key
from leverstep.statics.kinds import NET_MOMENT, REACTION_SIZE
from leverstep.statics.points import Given
from leverstep.statics.posture import Further, Posture, Relation
from leverstep.statics.step import Draft
from leverstep.statics.units import (
    ANGULAR_ACCELERATION,
    ANGULAR_VELOCITY,
    AREA,
    IN_NAMED_LENGTH,
    LENGTH,
    MOMENT_OF_INERTIA,
    NUMBER,
    SPEED,
    Dimension,
)

MOST_FURTHER = 6
"""So many may be worked out in one problem."""


@dataclass(frozen=True, slots=True)
class _Row:
    """What a relation is read with: the key and the sort of its given, and whether it compares two.

    `units` are those that it may be asked in, where there is a choice, the first if none is named.
    """

    given: str = ""
    dimension: Dimension = NUMBER
    compares: bool = False
    units: tuple[str, ...] = ()


_OTHER_UNITS = ("lbf", "kN", "kgf")

_ROWS: dict[Relation, _Row] = {
    Relation.STRESS: _Row("area", AREA),
    Relation.BODY_WEIGHTS: _Row(units=("", "%")),
    Relation.OTHER_UNIT: _Row(units=_OTHER_UNITS),
    Relation.FRICTION_NEEDED: _Row(),
    Relation.FRICTION_ENOUGH: _Row("coefficient"),
    Relation.PART_SHARED: _Row("share"),
    Relation.MOMENT_SPED_UP: _Row("moment_of_inertia", MOMENT_OF_INERTIA),
    Relation.FORCE_AT_ARM: _Row("arm", LENGTH),
    Relation.POWER: _Row("angular_velocity", ANGULAR_VELOCITY),
    Relation.DISTANCE_MOVED: _Row("moved", LENGTH, compares=True),
    Relation.SPEED: _Row("moved", SPEED, compares=True),
    Relation.RATIO: _Row(compares=True),
}
"""How each relation is read."""

_IN_SI = {Relation.MOMENT_SPED_UP: "N·m", Relation.FORCE_AT_ARM: "N"}
"""The unit of those that another may go on from."""

_MOVING = (Relation.DISTANCE_MOVED, Relation.SPEED)


class FurtherReader:
    """Reads the `[[further]]` of one file; their names are kept in `names`."""

    def __init__(self, quantities: Quantities) -> None:
        self.quantities = quantities
        self.names: dict[str, str] = {}
        self._readers: list[Reader] = []
        self._earlier: dict[str, str] = {}

    def read(self, reader: Reader) -> tuple[Further, ...]:
        """Return all that is worked out further, none where the file has none."""
        expected = "[[further]] for each, in double brackets"
        self._readers = reader.children("further", expected, MOST_FURTHER, needed=False)
        return tuple(self._one(one) for one in self._readers)

    def _one(self, reader: Reader) -> Further:
        symbol = self.quantities.new_symbol(reader)
        self.names[symbol] = reader.text("name")
        relation = Relation(reader.choice("relation", [one.value for one in Relation]))
        row = _ROWS[relation]
        of = reader.text("of", REACTION_SIZE.key if relation is Relation.FRICTION_NEEDED else None)
        over = reader.text("over") if row.compares else ""
        given, others = self._givens(reader, row)
        turns = sense_of(reader) if relation is Relation.MOMENT_SPED_UP else 0
        unit = ""
        if row.units:
            unit = reader.choice("unit", row.units, None if row.units[0] else "")
        reader.finish()
        return Further(symbol, relation, of, over, given, others, unit, turns)

    def _givens(self, reader: Reader, row: _Row) -> tuple[Given | None, tuple[Given, ...]]:
        """Return what a relation needs besides, and the areas of the others that share."""
        if row.given == "share" and reader.has("area"):
            own = self.quantities.measured_in(reader, "area", AREA)
            tables = reader.children("others", "the area of at least one other muscle", 5)
            others = tuple(self.quantities.measured(one, AREA) for one in tables)
            for other in others:
                if own is not None and other.unit != own.unit:
                    found = f'found "{other.unit}" beside "{own.unit}"'
                    reader.fault("others", found, "all areas in one unit")
            return own, others
        if not row.given:
            return None, ()
        quickly = None
        if row.dimension == MOMENT_OF_INERTIA:
            key = "angular_acceleration"
            quickly = self.quantities.measured_in(reader, key, ANGULAR_ACCELERATION)
        given = self.quantities.measured_in(reader, row.given, row.dimension)
        if row.given == "share" and given and not self.quantities.ranges[given.key].high < 1:
            reader.fault("share", "a share of all or more", "a number between 0 and 1")
        return given, (quickly,) if quickly else ()

    @property
    def forces(self) -> dict[str, str]:
        """Return the forces in newtons that were worked out so far, each with its name."""
        return {s: name for s, name in self.names.items() if self._earlier.get(s) == "N"}

    def check(self, posture: Posture) -> None:
        """Note what can't be worked out from what the posture has, or an earlier one had."""
        draft = Draft(posture, self.quantities.middle())
        known = self._earlier | measurable(draft)
        for further, reader in zip(posture.further, self._readers, strict=True):
            _check(further, reader, draft, known)
            known[further.symbol] = _unit_of(further, known)
        self._earlier = known


def _unit_of(further: Further, known: Mapping[str, str]) -> str:
    """Return the unit of a further line, as far as another may go on from it."""
    if further.relation is Relation.PART_SHARED:
        return known.get(further.of, "")
    if further.relation in _IN_SI:
        return _IN_SI[further.relation]
    return str(further.relation.value)  # of a sort of its own


def _check(further: Further, reader: Reader, draft: Draft, known: Mapping[str, str]) -> None:
    posture, relation = draft.posture, further.relation
    if relation is Relation.BODY_WEIGHTS and posture.body is None:
        reader.fault("relation", "there is no [body]", "a [body] with its mass")
    if relation in _MOVING:
        for key, symbol in (("of", further.of), ("over", further.over)):
            _check_path(reader, key, symbol, draft)
    elif relation is Relation.FRICTION_NEEDED:
        if component_keys(draft, further.of) is None:
            found = f"{further.of} does not have two components that are worked out"
            expected = '"R" or a slanting force, and reaction = true'
            if posture.reaction and further.of == posture.key(REACTION_SIZE):
                expected = "a slanting force, so that R has a horizontal and a vertical component"
            reader.fault("of", found, expected)
    elif relation is Relation.FRICTION_ENOUGH:
        earlier = [f.symbol for f in posture.further if f.relation is Relation.FRICTION_NEEDED]
        _check_key(reader, "of", further.of, earlier)
    elif relation is Relation.MOMENT_SPED_UP:
        _check_key(reader, "of", further.of, [k for k in known if k == posture.key(NET_MOMENT)])
    elif relation is Relation.RATIO:
        _check_key(reader, "of", further.of, known)
        alike = [key for key, unit in known.items() if unit == known.get(further.of)]
        _check_key(reader, "over", further.over, [key for key in alike if key != further.of])
    else:
        units = {
            **dict.fromkeys((Relation.POWER, Relation.FORCE_AT_ARM), ("N·m",)),
            Relation.PART_SHARED: ("N", "N·m", IN_NAMED_LENGTH["N·m"]),
        }
        wanted = units.get(relation, ("N",))
        _check_key(reader, "of", further.of, [k for k, unit in known.items() if unit in wanted])


def _check_key(reader: Reader, key: str, found: str, names: Iterable[str]) -> None:
    """Note a name that is none of some quantities."""
    names = list(names)
    if found not in names:
        expected = f"one of {', '.join(names)}" if names else "a problem that has such a quantity"
        reader.fault(key, f'found "{found}"{reader.near(found, names)}', expected)


def _check_path(reader: Reader, key: str, symbol: str, draft: Draft) -> None:
    """Note a force whose point has no path that is worked out."""
    forces: dict[str, Force] = {force.symbol: force for force in draft.posture.turning}
    paths = [name for name, force in forces.items() if path_key(draft, force)]
    _check_key(reader, key, symbol, paths)
