"""How the student works the lines of a centre of mass rightly: places, products, sums, support."""

# ruff: noqa: ARG001 (every kind of line is worked from the same three)

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from leverstep.statics.acting import Force
from leverstep.statics.line_keys import beside, with_index
from leverstep.statics.points import Distance
from leverstep.statics.step import Step

from student.lines import Factor, Formula, Term, product

if TYPE_CHECKING:
    from student.sheet import Sheet

Values = Mapping[str, float]
Place = tuple[str, int]
"""The key of what a coordinate is read from, and its sign."""

CENTRE_SIGNED = (
    "point_x", "point_y", "part_x", "part_y", "weight_moment", "mass_moment",
    "weight_moment_sum", "mass_moment_sum", "centre_x", "centre_y",
)  # fmt: skip
"""The kinds of lines of a centre of mass whose value has a sign."""

IN, OUT = 1.0, -1.0


def _of_distance(distance: Distance | None) -> Place | None:
    return None if distance is None else (distance.symbol, -1 if distance.beyond else 1)


def point_place(sheet: Sheet, name: str, axis: str) -> Place | None:
    """Return what a coordinate of a point is read from, None where it is 0."""
    if not name:
        return None
    point = next(one for one in sheet.posture.body_points if one.name == name)
    if point.offset is not None:
        return _of_distance(point.offset.across if axis == "x" else point.offset.up)
    key = with_index(axis, point.suffix)
    if key in sheet.steps:
        return key, 1
    # Without a line of its own it is the one before, or so far straight from the origin.
    straight = (point.direction.reference == "horizontal") == (axis == "x")
    if point.direction.angle is None and not straight:
        return point_place(sheet, point.start, axis)
    return point.length.symbol, _way(point.direction, axis)


def _way(direction, axis: str) -> int:
    if direction.reference == "bearing":
        return 1
    side = direction.toward == "right" if axis == "x" else direction.side == "above"
    return 1 if side else -1


def part_place(sheet: Sheet, force: Force, axis: str) -> Place | None:
    """Return what a coordinate of a part is read from, None where it is 0."""
    if force.between is not None:
        key = beside(axis, force.symbol)
        if key in sheet.steps:
            return key, 1
        return point_place(sheet, force.between.start, axis)
    if force.offset is not None:
        return _of_distance(force.offset.across if axis == "x" else force.offset.up)
    if axis == "y" or not force.at.symbol:
        return None
    leftward = force.at.beyond != (sheet.posture.points == "left")
    return force.at.symbol, -1 if leftward else 1


def _value(values: Values, place: Place, about: str, role: str = "place") -> Term:
    key, sign = place
    return Term((Factor(key, values[key], role),), about, sign)


def _point(sheet: Sheet, step: Step, values: Values) -> Formula:
    axis = step.kind.name[-1]
    point = next(one for one in sheet.posture.body_points if one.suffix == step.about)
    start = point_place(sheet, point.start, axis)
    factors = [Factor(point.length.symbol, values[point.length.symbol], "length")]
    angle = point.direction.angle
    if angle is not None:
        function = "cos" if (point.direction.reference != "vertical") == (axis == "x") else "sin"
        factors.append(Factor(angle.key, sheet.angle(angle.key, values), "angle", 1, function))
    way = Term(tuple(factors), "way", _way(point.direction, axis))
    return Formula((way,) if start is None else (_value(values, start, "start"), way))


def _part(sheet: Sheet, step: Step, values: Values) -> Formula:
    """Return start + share x end - share x start."""
    force, axis = sheet.forces[step.about], step.kind.name[-1]
    between = force.between
    start, end = (point_place(sheet, name, axis) for name in (between.start, between.end))
    share = Factor(between.fraction.key, sheet.numbers[between.fraction.key], "share")
    terms = []
    if start is not None:
        terms.append(_value(values, start, "start"))
    for place, about, sign in ((end, "end", 1), (start, "back", -1)):
        if place is not None:
            key, side = place
            factors = share, Factor(key, values[key], "place")
            terms.append(Term(factors, about, sign * side))
    return Formula(tuple(terms))


def weighed_by_mass(sheet: Sheet) -> bool:
    """Return whether masses are multiplied and summed, not weights."""
    return any(step.kind.name == "total_mass" for step in sheet.steps.values())


def weight(sheet: Sheet, force: Force, values: Values) -> Factor:
    """Return what a part is counted with: its mass, or its weight."""
    if not weighed_by_mass(sheet):
        return Factor(force.symbol, values[force.symbol], "size")
    key = force.magnitude.key
    if key in sheet.numbers:
        return Factor(key, sheet.numbers[key], "given")
    return Factor(key, values[key], "size")


def axis_of(sheet: Sheet, step: Step) -> str:
    """Return the axis of a product or a sum of them."""
    return "y" if step.key.startswith("My") else "x"


def _product(sheet: Sheet, step: Step, values: Values) -> Formula:
    force = sheet.forces[step.about]
    place = part_place(sheet, force, axis_of(sheet, step))
    assert place is not None
    key, sign = place
    arm = Factor(key, values[key], "arm")
    return product(weight(sheet, force, values), arm, about=force.symbol, sign=sign)


def _products(sheet: Sheet, step: Step, values: Values) -> Formula:
    prefix = step.key.removesuffix("_sum")
    terms = [
        Term((Factor(key, values[key], "moment"),), force.symbol)
        for force in sheet.posture.loads
        if (key := beside(prefix, force.symbol)) in sheet.steps
    ]
    return Formula(tuple(terms))


def _total(sheet: Sheet, step: Step, values: Values) -> Formula:
    loads = sheet.posture.loads
    return Formula(tuple(Term((weight(sheet, one, values),), one.symbol) for one in loads))


def _centre(sheet: Sheet, step: Step, values: Values) -> Formula:
    axis = step.kind.name[-1]
    prefix = f"M{axis}" if {"x_c", "y_c"} <= sheet.steps.keys() else "M"
    key = f"{prefix}_sum"
    if key not in sheet.steps:  # the sum of one is that one
        key = next(k for k in sheet.steps if k.startswith(f"{prefix}_"))
    total = "m_sum" if weighed_by_mass(sheet) else "W_sum"
    return product(Factor(key, values[key], "moment"), Factor(total, values[total], "size", -1))


def edge_terms(sheet: Sheet, values: Values) -> list[Formula]:
    """Return the distance to each edge of the base of support, the nearer first."""
    centre = Term((Factor("x_c", values["x_c"], "moment"),), "centre")
    found = []
    for edge in (sheet.posture.support.left, sheet.posture.support.right):
        place = _of_distance(edge)
        terms = [centre]
        if place is not None:
            term = _value(values, place, "edge", "moment")
            terms.append(Term(term.factors, "edge", -term.sign))
        line = Formula(tuple(terms))
        if line.value < 0:
            turned = tuple(Term(t.factors, t.about, -t.sign) for t in reversed(terms))
            line = Formula(turned)
        found.append(line)
    return sorted(found, key=lambda line: line.value)


def _edge(sheet: Sheet, step: Step, values: Values) -> Formula:
    return edge_terms(sheet, values)[0]


def _supported(sheet: Sheet, step: Step, values: Values) -> Formula:
    ends = []
    for edge in (sheet.posture.support.left, sheet.posture.support.right):
        place = _of_distance(edge)
        ends.append(0.0 if place is None else place[1] * values[place[0]])
    inside = ends[0] <= values["x_c"] <= ends[1]
    return product(Factor("", IN if inside else OUT, "word"))


CENTRE_LINES: dict[str, Callable[[Sheet, Step, Values], Formula]] = {
    "point_x": _point,
    "point_y": _point,
    "part_x": _part,
    "part_y": _part,
    "weight_moment": _product,
    "mass_moment": _product,
    "weight_moment_sum": _products,
    "mass_moment_sum": _products,
    "total_weight": _total,
    "total_mass": _total,
    "centre_x": _centre,
    "centre_y": _centre,
    "edge": _edge,
    "supported": _supported,
}
"""How a line of each kind of a centre of mass is worked."""
