"""Reading what a centre of mass needs besides the weights: points of the body, and its support."""

from __future__ import annotations

import re
from dataclasses import replace

from leverstep.course.faults import Reader
from leverstep.course.forces import AXIS, STRAIGHT, Forces, leaning
from leverstep.course.quantities import Quantities
from leverstep.statics.acting import Force
from leverstep.statics.centre_of_mass import axes_sought, centre_keys, edges
from leverstep.statics.points import BodyPoint, Direction, Distance, Given, Numbers, Support
from leverstep.statics.posture import Posture

MOST_POINTS = 12
"""A body of twelve parts has no more joints between them."""

_LEFTWARD = "left = true says that it lies to the left of the axis"
_LEVEL = ("up", "down", "left", "right")
_SUFFIX = re.compile(r"_[A-Za-z0-9]{1,8}")


def read_points(reader: Reader, quantities: Quantities, forces: Forces) -> tuple[BodyPoint, ...]:
    """Return the points of the body in a file; loads may then lie between them.

    Args:
        reader: the whole file.
        quantities: what was met so far; lengths and angles are kept there.
        forces: which learn the names of the points.
    """
    expected = "[[point]] for each joint or end of a part"
    tables = reader.children("point", expected, MOST_POINTS, needed=False)
    points = []
    for table in tables:
        point = _point(table, quantities, forces)
        if point.name in forces.body_points:
            table.fault("name", f'"{point.name}" is the name of another point', "a new name")
        forces.body_points = (*forces.body_points, point.name)
        points.append(point)
    return tuple(points)


def _point(reader: Reader, quantities: Quantities, forces: Forces) -> BodyPoint:
    name = reader.text("name")
    if reader.has("at"):
        at = reader.child("at")
        offset = None if at is None else forces.offset(at)
        reader.finish()
        return BodyPoint(name, offset=offset)
    suffix = reader.text("suffix")
    if suffix and not _SUFFIX.fullmatch(suffix):
        reader.fault("suffix", f'found "{suffix}"', '"_" and letters, as in "_k"')
    start = reader.choice("start", (AXIS, *forces.body_points), AXIS)
    table = reader.child("length")
    length = None if table is None else quantities.length(table)
    direction = _direction(reader, quantities, forces)
    reader.finish()
    return BodyPoint(name, suffix, None, "" if start == AXIS else start, length, direction)


def _direction(reader: Reader, quantities: Quantities, forces: Forces) -> Direction:
    """Return the way to a point: straight, by a bearing, or at an angle, which others may share."""
    if not isinstance(reader.table.get("direction"), dict):
        return STRAIGHT[reader.choice("direction", _LEVEL)]
    table = reader.child("direction")
    assert table is not None, "a table, as just seen"
    if table.has("bearing"):
        return forces.by_bearing(table)
    direction = leaning(table, ("horizontal", "vertical"))
    angle = _angle(table, quantities)
    table.finish()
    return replace(direction, angle=angle)


def _angle(reader: Reader, quantities: Quantities) -> Given | None:
    if not isinstance(reader.table.get("angle"), str):
        table = reader.child("angle")
        if table is None:
            return None
        return quantities.angle(table, "an angle has no sign", "lean to the other side instead")
    return quantities.angle_met(reader)


def read_support(reader: Reader, quantities: Quantities) -> Support | None:
    """Return the base of support of a file, None where it has none."""
    table = reader.child("support", needed=False)
    if table is None:
        return None
    left, right = _edge(table, "from", quantities), _edge(table, "to", quantities)
    table.finish()
    if left is None and right is None:
        table.fault("from / to", "both edges lie at the axis", "two edges apart")
        return None
    return Support(left, right)


def _edge(reader: Reader, key: str, quantities: Quantities) -> Distance | None:
    """Return how far across an edge lies; None at the axis, or where it can't be read."""
    if reader.table.get(key) == AXIS:
        reader.asked.add(key)
        return None
    table = reader.child(key)
    if table is None:
        return None
    leftward = table.flag("left", False)
    distance = replace(quantities.distance(table, _LEFTWARD), beyond=leftward)
    if distance.sought or distance.of is not None:
        table.fault("value", "missing", "a measured distance")
    table.finish()
    return distance


def check_parts(reader: Reader, posture: Posture, middle: Numbers, taken: set[str]) -> None:
    """Note what keeps a centre of mass from being found.

    Args:
        reader: the whole file.
        posture: what is read of it.
        middle: the number in the middle of the range of each given.
        taken: the symbols of the file.
    """
    if posture.names_length:
        reader.fault(
            "load", "found lengths that are multiples of another", "lengths in metres or so"
        )
    if len(posture.loads) < 2:
        reader.fault("load", "found 1", "two parts or more")
    if posture.inclination is not None:
        expected = "none: a part that slants lies between [[point]]s"
        reader.fault("segment.inclination", "there is one", expected)
    for place, load in enumerate(posture.loads, 1):
        _check_part(reader, f"load[{place}]", load)
    if not axes_sought(posture):
        reader.fault("load", "every part lies at the axis", "a part beside it")
    _check_centre_keys(reader, posture, taken)
    if posture.support is not None and not reader.faults:
        left, right = edges(posture.support, posture, middle)
        if left >= right:
            reader.fault("support", f"it runs from {left:g} m to {right:g} m", "from left to right")


def _check_part(reader: Reader, place: str, load: Force) -> None:
    """Note what keeps a load from being a part of the body with its weight."""
    if load.direction != STRAIGHT["down"]:
        reader.fault(f"{place}.direction", "found another way", '"down", as a weight acts')
    if load.source is not None:
        found = f"{load.symbol} is no weight"
        reader.fault(place, found, "a mass, a force, a segment or a share")
    if load.at.perpendicular:
        reader.fault(f"{place}.at", "found a moment arm", "where its centre of mass lies")


def _check_centre_keys(reader: Reader, posture: Posture, taken: set[str]) -> None:
    """Note a symbol that is also that of a line of the working."""
    for key in centre_keys(posture):
        if key in taken:
            found = f'"{key}" is also what a line of the working is called'
            reader.fault("symbol", found, "another symbol")
        taken.add(key)


def check_no_parts(reader: Reader, posture: Posture) -> None:
    """Note what only a centre of mass makes use of, where none is to be found."""
    if posture.body_points:
        reader.fault("point", "found [[point]]", 'find = "centre of mass" or "line of gravity"')
    if posture.support is not None:
        reader.fault("support", "found [support]", 'find = "centre of mass" or "line of gravity"')
